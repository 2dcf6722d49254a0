"""What is assumed before a player's own balls speak: every value a setting, each with its evidence mark.

An academy may overrule any of them; a player's own data overrule all of them as visits accumulate.
"""

from dataclasses import dataclass

from metrics.levels import LEVELS, Level
from metrics.method import Mark

MPH_MPS = 0.44704


@dataclass(frozen=True, kw_only=True)
class Setting:
    """One assumed value: what it is, in which unit, and how well it is supported."""

    key: str
    label: str
    value: float
    unit: str
    mark: Mark


_SETTINGS = (
    Setting(key="k", label="Day effect over shot spread", value=0.4, unit="", mark="memory"),
    Setting(key="k_speed_carry", label="The same, for speed and distance", value=0.7, unit="", mark="memory"),
    Setting(key="k_prior_visits", label="Visits the assumed day effect counts for", value=4, unit="visits",
            mark="common practice"),
    Setting(key="sd_prior_balls", label="Balls the level's usual spread counts for", value=4, unit="balls",
            mark="common practice"),
    Setting(key="p_likely", label="Chance needed for likely", value=0.90, unit="", mark="common practice"),
    Setting(key="p_established", label="Chance needed for established", value=0.95, unit="",
            mark="common practice"),
    Setting(key="planned_balls", label="Balls in a planned test", value=12, unit="balls", mark="computed"),
    Setting(key="balls_to_show", label="Balls before a mean is shown", value=5, unit="balls",
            mark="common practice"),
    Setting(key="balls_to_judge", label="Balls before a mean is judged", value=10, unit="balls", mark="source"),
    Setting(key="balls_to_judge_driver", label="The same, with the driver", value=8, unit="balls",
            mark="source"),
    Setting(key="balls_to_judge_putter", label="The same, with the putter", value=20, unit="balls",
            mark="common practice"),
    Setting(key="balls_to_judge_spread", label="Balls a side before a spread is judged", value=20,
            unit="balls", mark="computed"),
    Setting(key="balls_to_judge_rate", label="Balls a side before a share is judged", value=10, unit="balls",
            mark="common practice"),
    Setting(key="balls_for_ellipse", label="Balls before an ellipse is drawn", value=20, unit="balls",
            mark="common practice"),
    Setting(key="balls_for_aids", label="Balls a side to compare with and without aids", value=8,
            unit="balls", mark="common practice"),
    Setting(key="adaptation_balls", label="Balls after a change that are kept but not judged", value=5,
            unit="balls", mark="common practice"),
    Setting(key="autocorrelation_limit", label="Ball-to-ball correlation that reduces the count", value=0.3,
            unit="", mark="common practice"),
    Setting(key="long_gap_days", label="Days away after which less is expected to hold", value=21,
            unit="days", mark="common practice"),
    Setting(key="response_prior_repeats", label="Repeats the usual effect of a change counts for", value=3,
            unit="repeats", mark="common practice"),
)
SETTINGS: dict[str, Setting] = {setting.key: setting for setting in _SETTINGS}
"""Every assumed value by its key."""


def setting(key: str) -> float:
    """Return the shipped value of a setting. Raises KeyError for an unknown key."""
    return SETTINGS[key].value


def balls_to_judge(*, category: str) -> int:
    """Return how many balls one visit needs before its mean is judged: driver 8, putter 20, others 10.

    Source: a reliability study of driver and six-iron shots (abstract read) found 7 and 10; putting is
    common practice.
    """
    suffix = f"_{category}" if category in ("driver", "putter") else ""
    return int(setting(f"balls_to_judge{suffix}"))


_SPEED_AND_CARRY = frozenset({"club_speed_mps", "ball_speed_mps", "carry_m", "total_m"})


def k_prior(*, quantity: str) -> float:
    """Return the assumed day-effect SD over shot SD: 0.7 for speed and distance, else 0.4 (memory)."""
    return setting("k_speed_carry" if quantity in _SPEED_AND_CARRY else "k")


_SD_BY_LEVEL: dict[str, tuple[float, ...]] = {
    "club_path_deg": (1.0, 1.3, 1.8, 2.4, 3.2, 4.5),
    "face_angle_deg": (1.3, 1.8, 2.4, 3.2, 4.2, 6.0),
    "face_to_path_deg": (1.4, 1.8, 2.4, 3.2, 4.2, 6.0),
    "attack_angle_deg": (0.9, 1.1, 1.5, 2.0, 2.6, 3.5),
    "club_speed_mps": tuple(mph * MPH_MPS for mph in (0.9, 1.1, 1.4, 1.7, 2.2, 3.0)),
    "strike_heel_toe_mm": (7, 9, 11, 13, 16, 20),
    "strike_high_low_mm": (7, 9, 11, 13, 16, 20),
}
_CARRY_CV_DRIVER = (0.04, 0.05, 0.065, 0.09, 0.12, 0.18)
_CARRY_CV_OTHER = (0.045, 0.05, 0.07, 0.09, 0.12, 0.18)


def sd_prior(*, quantity: str, level: Level, category: str = "mid_iron",
             typical: float | None = None) -> Setting | None:
    """Return the usual shot-to-shot SD at a level, in the stored unit; None where no prior is kept.

    Carry varies in proportion: its SD is a share of ``typical``, the player's mean carry in metres, and
    without that there is no prior. The shares are the driver's or, for every other club, the 7-iron's.
    All values from memory (coaching experience; a pre-elite 7-iron study agrees with 5 %).
    """
    rank = list(LEVELS).index(level)
    if quantity == "carry_m":
        if typical is None:
            return None
        share = (_CARRY_CV_DRIVER if category == "driver" else _CARRY_CV_OTHER)[rank]
        value, unit = share * typical, "m"
    elif quantity in _SD_BY_LEVEL:
        value, unit = _SD_BY_LEVEL[quantity][rank], quantity.rsplit("_", 1)[-1]
    else:
        return None
    return Setting(key=f"sd_{quantity}_{level}", label=f"Usual spread, {LEVELS[level].lower()}",
                   value=value, unit={"deg": "°", "mps": "m/s"}.get(unit, unit), mark="memory")


_SWC: dict[str, tuple[float, str, Mark]] = {
    "club_path_deg": (1.0, "°", "common practice"),
    "face_angle_deg": (0.8, "°", "common practice"),
    "face_to_path_deg": (0.8, "°", "common practice"),
    "attack_angle_deg": (1.0, "°", "common practice"),
    "launch_direction_deg": (0.8, "°", "common practice"),
    "launch_angle_deg": (1.5, "°", "common practice"),
    "smash_factor": (0.03, "", "common practice"),
    "strike_heel_toe_mm": (4.0, "mm", "common practice"),
    "strike_high_low_mm": (4.0, "mm", "common practice"),
    "low_point_cm": (2.0, "cm", "common practice"),
}
_SWC_SHARE = {"club_speed_mps": 0.02, "ball_speed_mps": 0.02, "carry_m": 0.03, "total_m": 0.03,
              "spin_rpm": 0.10}
SPREAD_RATIO_SWC = 0.80
"""A spread must fall to this share of what it was before it is worth calling tighter (common practice)."""
RATE_SWC = 0.10
"""Ten points of a success rate matter (common practice)."""


def is_judged(*, quantity: str, baseline: float | None = None) -> bool:
    """True where a smallest worthwhile change is kept: speed, distance and spin need a ``baseline`` above 0."""
    return quantity in _SWC or (quantity in _SWC_SHARE and bool(baseline))


def smallest_worthwhile(*, quantity: str, baseline: float | None = None,
                        category: str = "mid_iron") -> Setting:
    """Return the smallest change worth talking about, in the stored unit (common practice).

    Speed, distance and spin are shares of the ``baseline`` mean, which is then required. The putter's
    start direction and face count from 0.3 degrees. Raises ValueError where none is kept.
    """
    label = "Smallest change that matters"
    if category == "putter" and quantity in ("launch_direction_deg", "face_angle_deg"):
        return Setting(key=f"swc_{quantity}_putter", label=label, value=0.3, unit="°", mark="common practice")
    if quantity in _SWC:
        value, unit, mark = _SWC[quantity]
        return Setting(key=f"swc_{quantity}", label=label, value=value, unit=unit, mark=mark)
    if quantity in _SWC_SHARE:
        if baseline is None:
            raise ValueError(f"the smallest change of {quantity} is a share of the baseline: give the baseline")
        unit = {"spin_rpm": "rpm", "carry_m": "m", "total_m": "m"}.get(quantity, "m/s")
        return Setting(key=f"swc_{quantity}", label=label, value=_SWC_SHARE[quantity] * abs(baseline),
                       unit=unit, mark="common practice")
    raise ValueError(f"no smallest worthwhile change is kept for {quantity}")
