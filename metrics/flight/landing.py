"""Apex and landing between two steps: cubic Hermite interpolation, then one shortened step to the ground."""

import numpy as np
from numpy.typing import NDArray

from metrics.flight.motion import Flow, step
from metrics.flight.types import Array

_HALVINGS = range(40)
"""A step halved forty times is far below the rounding of the height itself."""


class Track:
    """What has to be remembered while balls fly: their highest point, and the step in which they landed."""

    def __init__(self, *, count: int) -> None:
        self.elapsed_s = 0.0
        self.apex_m = np.zeros(count)
        self.landings: list[tuple[NDArray[np.intp], Array, Array, Array, Array, Flow]] = []

    def note_apex(self, balls: NDArray[np.intp], before: Array, after: Array, step_s: float) -> None:
        """Keep the highest point of the balls that turned downwards in this step."""
        turned = (before[4] > 0) & (after[4] <= 0)
        if turned.any():
            which = balls[turned]
            share = _apex_share(before[:, turned], after[:, turned], step_s)
            top = _height_at(share, before[:, turned], after[:, turned], step_s)
            self.apex_m[which] = np.maximum(self.apex_m[which], top)

    def note_landing(
        self, balls: NDArray[np.intp], before: Array, after: Array, flow: Flow, step_s: float
    ) -> None:
        """Keep the states around the landing; the landing points are worked out together at the end."""
        begin, length = np.full(balls.size, self.elapsed_s), np.full(balls.size, step_s)
        self.landings.append((balls, before, after, begin, length, flow))


def landed(*, track: Track, landing_height_m: Array, direction_deg: Array) -> Array:
    """Return the rows of a ``Landing`` for all balls of a track; NaN for those that did not land.

    A landing height above the apex is never reached: NaN.
    """
    out = np.full((9, landing_height_m.size), np.nan)
    if not track.landings:
        return out
    columns = list(zip(*track.landings, strict=True))
    balls = np.concatenate(columns[0])
    before, after, begin_s, step_s = (np.concatenate(each, axis=-1) for each in columns[1:5])
    flow = _joined(list(columns[5]))
    height = landing_height_m[balls]
    last_s = step_s * _landing_share(before, after, step_s, height)
    final = step(state=before, flow=flow, step_s=last_s)
    apex = track.apex_m[balls]
    rows = _described(final, begin_s + last_s, apex, np.radians(direction_deg[balls]))
    out[:, balls] = np.where(apex >= height, rows, np.nan)
    return out


def _described(final: Array, time_s: Array, apex_m: Array, direction_rad: Array) -> Array:
    x, _, z, vx, vy, vz, spin = final
    level = np.hypot(vx, vz)
    return np.array([
        x,
        z,
        np.hypot(x, z),
        z * np.cos(direction_rad) - x * np.sin(direction_rad),
        apex_m,
        time_s,
        np.degrees(np.arctan2(-vy, level)),
        np.hypot(level, vy),
        spin * 30 / np.pi,
    ])


def _joined(flows: list[Flow]) -> Flow:
    first = flows[0]
    arrays = ("axis", "wind_mps", "drag_per_m", "lift_per_m", "reynolds_per_mps", "decay_per_m")
    joined = {name: np.concatenate([getattr(flow, name) for flow in flows], axis=-1) for name in arrays}
    return Flow(**joined, gravity_mps2=first.gravity_mps2, coefficients=first.coefficients)


def _cubic(before: Array, after: Array, step_s: float | Array) -> tuple[Array, Array, Array, Array]:
    """Coefficients of the height over the share of a step, from both heights and both vertical speeds."""
    y0, y1, m0, m1 = before[1], after[1], step_s * before[4], step_s * after[4]
    return 2 * (y0 - y1) + m0 + m1, 3 * (y1 - y0) - 2 * m0 - m1, m0, y0


def _height_at(share: Array, before: Array, after: Array, step_s: float | Array) -> Array:
    a, b, c, d = _cubic(before, after, step_s)
    return ((a * share + b) * share + c) * share + d


def _apex_share(before: Array, after: Array, step_s: float | Array) -> Array:
    """The share of the step at which the vertical speed is zero, it being above zero before, not after."""
    a, b, c, _ = _cubic(before, after, step_s)
    # The form of the quadratic formula that stays exact when a is next to nothing.
    return c / (np.sqrt(np.maximum(b * b - 3 * a * c, 0)) - b)


def _landing_share(before: Array, after: Array, step_s: float | Array, height: Array) -> Array:
    """The share of the step at which the ball falls through the height, by halving.

    It starts at the apex where that lies in the same step, so a ball that rises through the height and
    falls through it in one step is caught on its way down.
    """
    turned = before[4] > 0
    low = np.where(turned, _apex_share(before, np.where(turned, after, before - 1), step_s), 0.0)
    high = np.ones_like(low)
    for _ in _HALVINGS:
        middle = 0.5 * (low + high)
        above = _height_at(middle, before, after, step_s) > height
        low, high = np.where(above, middle, low), np.where(above, high, middle)
    return 0.5 * (low + high)
