"""From launch to landing: the whole flight of many balls, by fixed steps and a cubic landing."""

import numpy as np
from numpy.typing import NDArray

from metrics.flight.coefficients import Coefficients, drag_and_lift
from metrics.flight.landing import Track, landed
from metrics.flight.launching import Columns, columns_of, possible, start
from metrics.flight.motion import step
from metrics.flight.types import Air, Array, Ball, Curve, Landing, Launch, Values

STEP_S = 0.075
"""Keeps carry and side within 0.01 yd of a tight adaptive solver; tests hold it to that."""

LONGEST_FLIGHT_S = 30.0
BALLS_AT_ONCE = 16384
"""Small enough for the arrays to stay in the processor's cache, and memory flat for any number of balls."""

_MODEL_BALL = Ball()


def fly(
    *,
    launch: Launch,
    air: Air,
    ball: Ball = _MODEL_BALL,
    landing_height_m: Values = 0.0,
    coefficients: Coefficients = drag_and_lift,
    step_s: float = STEP_S,
) -> Landing:
    """Fly every ball from its launch until it comes down to the landing height.

    All fields of ``launch``, ``air``, ``ball`` and ``landing_height_m`` broadcast; the result has their common
    shape (numbers for numbers, empty for empty). Checked for ball speed 18..85 m/s, launch 8..50°, spin
    1000..12000 rpm (``within_range``); outside it is computed all the same. NaN comes out where an input is
    NaN or infinite, the speed is not above zero, the spin or the density is below zero, a ball launched at
    or below the horizontal has nothing to fall to, or it does not reach the landing height.

    Method: Runge-Kutta of fourth order at 0.075 s; landing by cubic interpolation and one shortened step.
    Absolute carry is a model value, ±6 % for woods and mid irons and ±11 % for wedges: never show it as
    measured. Not modelled: roll, wind changing with height, wet or damaged balls.
    """
    shape, columns = columns_of(launch=launch, air=air, ball=ball, landing_height_m=landing_height_m)
    count = columns["landing_height_m"].size
    out = np.full((len(Landing.__dataclass_fields__), count), np.nan)
    block_starts = range(0, count, BALLS_AT_ONCE)
    for first in block_starts:
        block = {name: column[first:first + BALLS_AT_ONCE] for name, column in columns.items()}
        flyable = possible(block) & ((block["launch_angle_deg"] > 0) | (block["landing_height_m"] < 0))
        chosen = {name: column[flyable] for name, column in block.items()}
        out[:, first + np.flatnonzero(flyable)] = _fly_block(chosen, coefficients, step_s)
    return Landing(**{
        name: row.reshape(shape)[()] for name, row in zip(Landing.__dataclass_fields__, out, strict=True)
    })


def _fly_block(columns: Columns, coefficients: Coefficients, step_s: float) -> Array:
    """Fly until all have landed; balls that have landed leave the arrays at once."""
    state, flow = start(columns, coefficients)
    height = columns["landing_height_m"]
    track = Track(count=height.size, step_s=step_s)
    still_up = np.arange(height.size)
    steps = range(round(LONGEST_FLIGHT_S / step_s))
    for _ in steps:
        if not still_up.size:
            break
        after = step(state, flow, step_s)
        down = (after[1] <= height[still_up]) & (after[4] < 0)
        track.note_apex(still_up, state, after)
        if down.any():
            track.note_landing(still_up[down], state[:, down], after[:, down], flow.only(down))
            up = ~down
            after, flow, still_up = after[:, up], flow.only(up), still_up[up]
        state = after
    return landed(track=track, landing_height_m=height, direction_deg=columns["launch_direction_deg"])


def within_range(*, launch: Launch) -> NDArray[np.bool_]:
    """Say for each ball whether the model was checked for such a launch.

    Ball speed 17.88..84.94 m/s, launch 8..50°, spin 1000..12000 rpm: the limits of the data behind the drag
    and lift coefficients. NaN counts as outside.
    """
    speed, angle, spin = (
        np.asarray(each, dtype=float)
        for each in (launch.ball_speed_mps, launch.launch_angle_deg, launch.spin_rpm)
    )
    return np.asarray(
        (speed >= 17.88) & (speed <= 84.94) & (angle >= 8) & (angle <= 50) & (spin >= 1000) & (spin <= 12000)
    )


def trace(*, launch: Launch, air: Air, ball: Ball = _MODEL_BALL, points: int = 41) -> Curve:
    """Return each flight as ``points`` points equally spaced in time, the last one the landing.

    For pictures: at 41 points the longest drives end within 0.1 yd of ``fly``. The arrays have the points as
    first axis, then the common shape of the inputs; NaN where ``fly`` gives NaN.
    """
    times = np.asarray(fly(launch=launch, air=air, ball=ball).flight_time_s)
    shape, columns = columns_of(launch=launch, air=air, ball=ball)
    state, flow = start(columns)
    step_s = times.reshape(-1) / (points - 1)
    state[:3] += 0 * step_s  # NaN from the first point on where there is no flight
    track = [state[:3]]
    steps = range(points - 1)
    for _ in steps:
        state = step(state, flow, step_s)
        track.append(state[:3])
    downrange, height, side = np.stack(track, axis=1).reshape(3, points, *shape)
    fractions = np.linspace(0.0, 1.0, points).reshape(points, *(1 for _ in shape))
    return Curve(time_s=fractions * times, downrange_m=downrange, height_m=height, side_m=side)
