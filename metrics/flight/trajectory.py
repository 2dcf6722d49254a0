"""From launch to landing: the whole flight of many balls, by common steps and a cubic landing."""

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from metrics.flight.coefficients import Coefficients, drag_and_lift
from metrics.flight.landing import Track, landed
from metrics.flight.launching import Columns, columns_of, possible, start
from metrics.flight.motion import step
from metrics.flight.types import Air, Array, Ball, Curve, Landing, Launch, Values

FIRST_STEP_S, STEP_GROWTH, LONGEST_STEP_S = 0.04, 1.03, 0.2
"""The same steps for every ball, growing as balls slow down: half as many as steps of 0.075 s and twice as exact.
Keeps carry and side within 0.01 yd of a tight adaptive solver; tests hold it to that."""

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
    step_scale: float = 1.0,
) -> Landing:
    """Fly every ball from its launch until it comes down to the landing height.

    All fields of ``launch``, ``air``, ``ball`` and ``landing_height_m`` broadcast; the result has their common
    shape (numbers for numbers, empty for empty). Checked for ball speed 18..85 m/s, launch 8..50°, spin
    1000..12000 rpm (``within_range``); outside it is computed all the same. NaN comes out where an input is
    NaN or infinite, the speed is not above zero, the spin or the density is below zero, a ball launched at
    or below the horizontal has nothing to fall to, or it does not reach the landing height.

    Method: Runge-Kutta of fourth order, steps growing from 0.04 to 0.2 s, all of them times ``step_scale``;
    landing by cubic interpolation and one shortened step.
    Absolute carry is a model value, ±6 % for woods and mid irons and ±11 % for wedges: never show it as
    measured. Not modelled: roll, wind changing with height, wet or damaged balls.
    """
    shape, columns = columns_of(launch=launch, air=air, ball=ball, landing_height_m=landing_height_m)
    count = columns["landing_height_m"].size
    out = np.full((len(Landing.__dataclass_fields__), count), np.nan)
    block_starts = range(0, count, BALLS_AT_ONCE)
    for first in block_starts:
        block = {name: column[first:first + BALLS_AT_ONCE] for name, column in columns.items()}
        flyable = possible(columns=block) & ((block["launch_angle_deg"] > 0) | (block["landing_height_m"] < 0))
        chosen = {name: column[flyable] for name, column in block.items()}
        out[:, first + np.flatnonzero(flyable)] = _fly_block(chosen, coefficients, step_scale)
    return Landing(**{
        name: row.reshape(shape)[()] for name, row in zip(Landing.__dataclass_fields__, out, strict=True)
    })


def _steps_s(scale: float) -> Iterator[float]:
    """The lengths of the steps of every flight, until the longest flight anybody could ask for is over."""
    elapsed, length = 0.0, FIRST_STEP_S * scale
    while elapsed < LONGEST_FLIGHT_S:
        yield length
        elapsed += length
        length = min(LONGEST_STEP_S * scale, length * STEP_GROWTH**scale)


def _fly_block(columns: Columns, coefficients: Coefficients, step_scale: float) -> Array:
    """Fly until all have landed; balls that have landed leave the arrays at once."""
    state, flow = start(columns=columns, coefficients=coefficients)
    height = columns["landing_height_m"]
    track = Track(count=height.size)
    still_up, floor = np.arange(height.size), height
    for step_s in _steps_s(step_scale):
        if not still_up.size:
            break
        after = step(state=state, flow=flow, step_s=step_s)
        track.note_apex(still_up, state, after, step_s)
        down = (after[1] <= floor) & (after[4] < 0)
        if down.any():
            track.note_landing(still_up[down], state[:, down], after[:, down], flow.only(down), step_s)
            up = ~down
            after, flow, still_up, floor = after[:, up], flow.only(up), still_up[up], floor[up]
        track.elapsed_s += step_s
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
    state, flow = start(columns=columns)
    step_s = times.reshape(-1) / (points - 1)
    state[:3] += 0 * step_s  # NaN from the first point on where there is no flight
    track = [state[:3]]
    steps = range(points - 1)
    for _ in steps:
        state = step(state=state, flow=flow, step_s=step_s)
        track.append(state[:3])
    downrange, height, side = np.stack(track, axis=1).reshape(3, points, *shape)
    fractions = np.linspace(0.0, 1.0, points).reshape(points, *(1 for _ in shape))
    return Curve(time_s=fractions * times, downrange_m=downrange, height_m=height, side_m=side)
