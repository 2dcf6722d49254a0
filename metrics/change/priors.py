"""What is assumed before a player's own balls speak, by quantity, club and level; the values are in ``settings``."""

from dataclasses import replace

from metrics.change.settings import SETTINGS, SPREADS_BY_LEVEL, Setting, setting
from metrics.levels import Level

__all__ = ["SETTINGS", "Setting", "balls_to_judge", "is_judged", "k_prior", "sd_prior", "setting",
           "smallest_worthwhile"]

_SPEED_AND_CARRY = frozenset({"club_speed_mps", "ball_speed_mps", "carry_m", "total_m"})
_AS_A_SHARE = frozenset({"club_speed_mps", "ball_speed_mps", "carry_m", "total_m", "spin_rpm"})


def balls_to_judge(*, category: str) -> int:
    """Return how many balls one visit needs before its mean is judged: driver 8, putter 20, others 10.

    Source: a reliability study of driver and six-iron shots (abstract read) found 7 and 10; putting is
    common practice.
    """
    suffix = f"_{category}" if category in ("driver", "putter") else ""
    return int(setting(f"balls_to_judge{suffix}"))


def k_prior(*, quantity: str) -> float:
    """Return the assumed day-effect SD over shot SD: 0.7 for speed and distance, else 0.4 (memory)."""
    return setting("k_speed_carry" if quantity in _SPEED_AND_CARRY else "k")


def sd_prior(*, quantity: str, level: Level, category: str = "mid_iron",
             typical: float | None = None) -> Setting | None:
    """Return the usual shot-to-shot SD at a level, in the stored unit; None where no prior is kept.

    Carry varies in proportion: its SD is a share of ``typical``, the player's mean carry in metres, and
    without that there is no prior. The shares are the driver's or, for every other club, the 7-iron's.
    All values from memory (coaching experience; a pre-elite 7-iron study agrees with 5 %).
    """
    if quantity == "carry_m" and typical is not None:
        key = f"cv_{'driver' if category == 'driver' else 'other'}_{level}"
        return replace(SETTINGS[key], value=setting(key) * typical, unit="m")
    if quantity not in SPREADS_BY_LEVEL:
        return None
    return _in_force(f"sd_{quantity}_{level}")


def is_judged(*, quantity: str, baseline: float | None = None) -> bool:
    """True where a smallest worthwhile change is kept: speed, distance and spin need a ``baseline`` above 0."""
    return f"swc_{quantity}" in SETTINGS and (quantity not in _AS_A_SHARE or bool(baseline))


def smallest_worthwhile(*, quantity: str, baseline: float | None = None,
                        category: str = "mid_iron") -> Setting:
    """Return the smallest change worth talking about, in the stored unit (common practice).

    Speed, distance and spin are shares of the ``baseline`` mean, which is then required. The putter's
    start direction and face count from 0.3 degrees. Raises ValueError where none is kept.
    """
    if category == "putter" and quantity in ("launch_direction_deg", "face_angle_deg"):
        return _in_force("swc_putter_deg")
    key = f"swc_{quantity}"
    if key not in SETTINGS:
        raise ValueError(f"no smallest worthwhile change is kept for {quantity}")
    if quantity not in _AS_A_SHARE:
        return _in_force(key)
    if baseline is None:
        raise ValueError(f"the smallest change of {quantity} is a share of the baseline: give the baseline")
    unit = {"spin_rpm": "rpm", "carry_m": "m", "total_m": "m"}.get(quantity, "m/s")
    return replace(SETTINGS[key], value=setting(key) * abs(baseline), unit=unit)


def _in_force(key: str) -> Setting:
    return replace(SETTINGS[key], value=setting(key))
