"""Which carries may be stated at the reference condition, and why the others may not."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from metrics.flight.families import CLUBS
from metrics.flight.types import Air, Launch, Values
from metrics.provenance import COMPUTED, MEASURED, NORMALISED
from metrics.units import to_si

SHORTEST_CARRY_M = to_si(value=50.0, unit="yd", dimension="distance")
"""Below it the air changes carry by less than 2 yd even at 1600 m: computed."""

STRONGEST_WIND_MPS = to_si(value=10.0, unit="mph", dimension="speed")
"""Above it a corrected carry would be a guess: judgement, no source."""

LOWEST_LAUNCH_DEG = 8.0
"""Below it denser air may carry a ball farther, and the correction is not reliable: computed."""

Texts = str | Sequence[str] | NDArray[np.str_]
Flags = bool | NDArray[np.bool_]


def refusals(
    *, carry_m: Values, launch: Launch, air: Air | None, category: Texts, provenance: Texts, indoor: Flags
) -> NDArray[np.str_]:
    """Return for each ball the code of the first reason against a corrected carry, or "" where there is none.

    The inputs broadcast; NaN is "missing". The codes are those of ``metrics.flight.reasons.REFUSALS``. What the
    number is comes before what the weather was, and both before what is missing, because that is the order
    in which a coach can do something about it.
    """
    carry, speed, angle = (
        np.asarray(each, dtype=float) for each in (carry_m, launch.ball_speed_mps, launch.launch_angle_deg)
    )
    origin = np.asarray(provenance)
    wind = 0.0 if air is None else np.hypot(air.wind_along_mps, air.wind_slice_mps)
    reasons = (
        ("no_carry", np.isnan(carry)),
        ("already_normalised", origin == NORMALISED),
        ("indoor", np.asarray(indoor)),
        ("computed", origin == COMPUTED),
        ("no_provenance", origin != MEASURED),
        ("not_a_full_flight", ~np.isin(np.asarray(category), list(CLUBS))),
        ("no_air", np.asarray(air is None) | (False if air is None else np.isnan(air.density_kg_m3))),
        ("windy", np.asarray(wind) > STRONGEST_WIND_MPS + 1e-9),
        ("no_ball_speed", np.isnan(speed)),
        ("no_launch_angle", np.isnan(angle)),
        ("launch_low", angle < LOWEST_LAUNCH_DEG),
        ("carry_short", carry < SHORTEST_CARRY_M),
    )
    shape = np.broadcast_shapes(
        *(condition.shape for _, condition in reasons), np.shape(launch.spin_rpm),
        np.shape(launch.launch_direction_deg), np.shape(launch.spin_axis_deg),
    )
    return np.select(
        [np.broadcast_to(condition, shape) for _, condition in reasons],
        [np.asarray(code, dtype="<U24") for code, _ in reasons],
        np.asarray("", dtype="<U24"),
    )
