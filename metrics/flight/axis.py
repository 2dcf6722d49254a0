"""The spin axis from the curve of a flight, by searching on the flight model."""

import numpy as np

from metrics.flight.infer import Inferred
from metrics.flight.trajectory import fly
from metrics.flight.types import Air, Array, Ball, Launch, Values

FIRST_GUESS_DEG = 5.0
SECANT_STEPS = 5
SIDE_ERROR_M = 1.8
"""Error of a measured side, 1 standard deviation: common practice, no source."""

CALM_MPS = 0.5
LARGEST_AXIS_DEG = 60.0
_MODEL_BALL = Ball()


def axis_from_curve(
    *, curve_m: Values, launch: Launch, air: Air, ball: Ball = _MODEL_BALL, side_error_m: float = SIDE_ERROR_M
) -> Inferred:
    """Infer the tilt of the spin axis [°] that makes the flight model curve by ``curve_m``.

    ``launch.spin_axis_deg`` is not used. Five secant steps from 5° leave 0.002° up to 30°. Any shape.
    NaN where an input is missing, in wind above 0.5 m/s (5 mph of cross wind is worth 4° with a driver), and
    where no axis up to 60° gives so much curve; the refusal code says why when every ball is refused so.
    The standard error holds the measured side only; balls differ in lift by another 10 to 15 %.
    Source: computed with the flight model.
    """
    target = np.asarray(curve_m, dtype=float)

    def curve_at(axis_deg: Values) -> Array:
        tilted = Launch(
            ball_speed_mps=launch.ball_speed_mps, launch_angle_deg=launch.launch_angle_deg,
            launch_direction_deg=launch.launch_direction_deg, spin_rpm=launch.spin_rpm, spin_axis_deg=axis_deg,
        )
        return np.asarray(fly(launch=tilted, air=air, ball=ball).curve_m)

    calm = np.hypot(air.wind_along_mps, air.wind_slice_mps) <= CALM_MPS
    slope = curve_at(FIRST_GUESS_DEG) / FIRST_GUESS_DEG
    axis, curve = np.zeros(np.broadcast(target, slope).shape), 0 * slope
    following = np.full_like(axis, FIRST_GUESS_DEG)
    steps = range(SECANT_STEPS)
    for _ in steps:
        following_curve = curve_at(following)
        change = following_curve - curve
        moving = np.abs(change) > 1e-9
        slope = np.where(moving, change / np.where(moving, following - axis, 1.0), slope)
        axis, curve = following, following_curve
        following = np.clip(axis + (target - curve) / slope, -90.0, 90.0)
    found = (np.abs(following) <= LARGEST_AXIS_DEG) & (np.abs(following - axis) < 0.5)
    refusal = "" if np.any(calm & found) else ("curve_too_large" if np.any(calm) else "not_calm")
    value = np.where(calm & found, following, np.nan)
    return Inferred(
        value=value[()], standard_error=np.where(np.isfinite(value), side_error_m / np.abs(slope), np.nan)[()],
        refusal=refusal,
    )
