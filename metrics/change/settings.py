"""Every value that is assumed before a player's own balls speak: what it is and how well it is supported.

An academy may lay its own values over the shipped ones (``own_settings``); a player's own data overrule all of them as
visits accumulate.
"""

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass

from metrics.clubs import CATEGORIES
from metrics.fields import FIELDS
from metrics.levels import LEVELS
from metrics.method import Mark

MPH_MPS = 0.44704
EDGE_BALLS = 10
"""Drift compares the first ten with the last ten, in these words; so it takes twice as many at least."""


@dataclass(frozen=True, kw_only=True)
class Setting:
    """One assumed value: what it is, in which unit, how well it is supported, and between which ends it makes sense.

    ``group`` is the heading under which it is listed. ``lowest`` and ``highest`` are ends for an own value.
    """

    key: str
    label: str
    value: float
    unit: str
    mark: Mark
    group: str = ""
    lowest: float = 0.0
    highest: float = 1000.0

    @property
    def whole(self) -> bool:
        """True for counts: an own value of them is a whole number."""
        return self.unit in ("balls", "visits", "days", "repeats")


_MODEL, _COUNTS, _WORDS, _SIZES, _SPREADS, _WIDTHS = (
    "Days and shots", "How many balls", "When a word is said", "Smallest change that matters", "Usual spread by level",
    "How far off line is still playable")


def _count(key: str, label: str, value: float, mark: Mark = "common practice", unit: str = "balls") -> Setting:
    return Setting(key=key, label=label, value=value, unit=unit, mark=mark, group=_COUNTS, lowest=1, highest=200)


def _chance(key: str, label: str, value: float) -> Setting:
    return Setting(key=key, label=label, value=value, unit="", mark="common practice", group=_WORDS, lowest=0.5,
                   highest=0.999)


def _share(key: str, label: str, value: float, *, group: str = _WORDS, mark: Mark = "common practice") -> Setting:
    return Setting(key=key, label=label, value=value, unit="", mark=mark, group=group, lowest=0.001, highest=1.0)


_GENERAL = (
    Setting(key="k", label="Day effect over shot spread", value=0.4, unit="", mark="memory", group=_MODEL, highest=3),
    Setting(key="k_speed_carry", label="The same, for speed and distance", value=0.7, unit="", mark="memory",
            group=_MODEL, highest=3),
    Setting(key="k_prior_visits", label="Visits the assumed day effect counts for", value=4, unit="visits",
            mark="common practice", group=_MODEL, lowest=1, highest=100),
    Setting(key="sd_prior_balls", label="Balls the level's usual spread counts for", value=4, unit="balls",
            mark="common practice", group=_MODEL, lowest=1, highest=100),
    Setting(key="autocorrelation_limit", label="Ball-to-ball correlation that reduces the count", value=0.3, unit="",
            mark="common practice", group=_MODEL, lowest=0.0, highest=0.95),
    Setting(key="response_prior_repeats", label="Repeats the usual effect of a change counts for", value=3,
            unit="repeats", mark="common practice", group=_MODEL, lowest=1, highest=50),
    _chance("p_likely", "Chance needed for likely", 0.90),
    _chance("p_established", "Chance needed for established", 0.95),
    _share("retention_held", "Part of a gain that must be there for held", 0.7),
    _share("retention_lost", "Part of a gain below which it is not held", 0.3),
    Setting(key="long_gap_days", label="Days away after which less is expected to hold", value=21, unit="days",
            mark="common practice", group=_WORDS, lowest=1, highest=365),
    _count("planned_balls", "Balls in a planned test", 12, "computed"),
    _count("balls_to_show", "Balls before a mean is shown", 5),
    _count("balls_to_judge", "Balls before a mean is judged", 10, "source"),
    _count("balls_to_judge_driver", "The same, with the driver", 8, "source"),
    _count("balls_to_judge_putter", "The same, with the putter", 20),
    _count("balls_to_judge_spread", "Balls a side before a spread is judged", 20, "computed"),
    _count("balls_to_judge_rate", "Balls a side before a share is judged", 10),
    _count("balls_for_ellipse", "Balls before an ellipse is drawn", 20),
    _count("balls_for_aids", "Balls a side to compare with and without aids", 8),
    Setting(key="drift_balls", label="Balls of one kind before drift in a visit is judged", value=20, unit="balls",
            mark="common practice", group=_COUNTS, lowest=2 * EDGE_BALLS, highest=200),
    _count("adaptation_balls", "Balls after a change that are kept but not judged", 5),
)

_SMALLEST = {
    "club_path_deg": 1.0, "face_angle_deg": 0.8, "face_to_path_deg": 0.8, "attack_angle_deg": 1.0,
    "launch_direction_deg": 0.8, "launch_angle_deg": 1.5, "smash_factor": 0.03, "strike_heel_toe_mm": 4.0,
    "strike_high_low_mm": 4.0, "low_point_cm": 2.0,
}
_SMALLEST_SHARE = {"club_speed_mps": 0.02, "ball_speed_mps": 0.02, "carry_m": 0.03, "total_m": 0.03, "spin_rpm": 0.10}
SPREADS_BY_LEVEL: dict[str, tuple[float, ...]] = {
    "club_path_deg": (1.0, 1.3, 1.8, 2.4, 3.2, 4.5),
    "face_angle_deg": (1.3, 1.8, 2.4, 3.2, 4.2, 6.0),
    "face_to_path_deg": (1.4, 1.8, 2.4, 3.2, 4.2, 6.0),
    "attack_angle_deg": (0.9, 1.1, 1.5, 2.0, 2.6, 3.5),
    "club_speed_mps": tuple(mph * MPH_MPS for mph in (0.9, 1.1, 1.4, 1.7, 2.2, 3.0)),
    "strike_heel_toe_mm": (7, 9, 11, 13, 16, 20),
    "strike_high_low_mm": (7, 9, 11, 13, 16, 20),
}
"""Quantity -> usual shot-to-shot SD at each level, best first, in the stored unit (memory, coaching experience)."""
_CARRY_SHARES = {
    "driver": ("Carry, driver, as a share of it", (0.04, 0.05, 0.065, 0.09, 0.12, 0.18)),
    "other": ("Carry, other clubs, as a share of it", (0.045, 0.05, 0.07, 0.09, 0.12, 0.18)),
}

_PLAYABLE = {"driver": 0.08, "fairway": 0.08, "hybrid_long_iron": 0.08, "mid_iron": 0.07, "short_iron": 0.06,
             "wedge_full": 0.06, "pitch": 0.08, "chip": 0.10}
"""Kind of club -> distance to either side of the line that is still playable, as a share of the carry (memory)."""


def _widths() -> Iterator[Setting]:
    for club, value in _PLAYABLE.items():
        yield _share(f"playable_{club}", f"{CATEGORIES[club]}: to either side, as a share of the carry", value,
                     group=_WIDTHS, mark="memory")


def _sizes() -> Iterator[Setting]:
    for quantity, value in _SMALLEST.items():
        field = FIELDS[quantity]
        yield Setting(key=f"swc_{quantity}", label=f"{field.label}: smallest change", value=value, unit=field.unit,
                      mark="common practice", group=_SIZES, lowest=value / 100, highest=value * 20)
    for quantity, value in _SMALLEST_SHARE.items():
        yield _share(f"swc_{quantity}", f"{FIELDS[quantity].label}: smallest change, as a share of it", value,
                     group=_SIZES)
    yield Setting(key="swc_putter_deg", label="Putter, start and face: smallest change", value=0.3, unit="°",
                  mark="common practice", group=_SIZES, lowest=0.01, highest=5)
    yield _share("swc_spread_ratio", "Spread: must fall to this share of what it was", 0.80, group=_SIZES)
    yield _share("swc_rate", "Share of balls: smallest change", 0.10, group=_SIZES)


def _spreads() -> Iterator[Setting]:
    for quantity, row in SPREADS_BY_LEVEL.items():
        field = FIELDS[quantity]
        for (level, name), value in zip(LEVELS.items(), row, strict=True):
            yield Setting(key=f"sd_{quantity}_{level}", label=f"{field.label}: {name.lower()}", value=value,
                          unit=field.unit, mark="memory", group=_SPREADS, lowest=value / 100, highest=value * 20)
    for club, (label, row) in _CARRY_SHARES.items():
        for (level, name), value in zip(LEVELS.items(), row, strict=True):
            yield _share(f"cv_{club}_{level}", f"{label}: {name.lower()}", value, group=_SPREADS, mark="memory")


SETTINGS: dict[str, Setting] = {setting.key: setting for setting in (*_GENERAL, *_sizes(), *_widths(), *_spreads())}
"""Every assumed value by its key, as shipped."""

_OWN: ContextVar[Mapping[str, float] | None] = ContextVar("own_settings", default=None)


@contextmanager
def own_settings(values: Mapping[str, float]) -> Iterator[None]:
    """Let an academy's own values count inside the block, by key; what is not among them stays as shipped."""
    before = _OWN.set(values)
    try:
        yield
    finally:
        _OWN.reset(before)


def has_own_settings() -> bool:
    """True inside ``own_settings``, whatever it holds."""
    return _OWN.get() is not None


def setting(key: str) -> float:
    """Return the value of a setting that counts here. Raises KeyError for an unknown key."""
    shipped = SETTINGS[key].value
    own = _OWN.get()
    return shipped if own is None else own.get(key, shipped)
