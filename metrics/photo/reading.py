"""From clicks on one photo to setup numbers with their uncertainty and the warnings that belong to them."""

import math
from dataclasses import dataclass

import numpy as np

from .doubts import doubts_about, refuse_impossible
from .homography import Array, apply, homography, local_scales
from .propagate import half_widths
from .stance import HALF_HEEL_CM, KEYS, stance_numbers, turned
from .sticks import ground_from_sticks
from .types import Clicks, Number, Picture, Reading, Rectangle, Sticks

LENS_SD = 0.005
"""SD of what a phone leaves uncorrected of its lens: a shift in the picture's corner, as a share of the way from
the middle. From memory: well below 1 % for main cameras."""
HALF_HEEL_SD_CM = 0.4
"""SD of half the heel's width over shoes. From memory."""


def read_photo(
    *, picture: Picture, ground: Rectangle | Sticks, clicks: Clicks, left_handed: bool = False,
) -> Reading:
    """Return stance width, ball position, foot and toe line, flares and distance, each with its half-width.

    Numbers are in cm and degrees with the signs of ``metrics.checkpoints`` for both hands; each carries the
    half-width of its 95 % interval from click error, lens, shoe width and, for sticks, focal length. Ground must
    be flat; a toe tip is taken as touching it, which flatters the distance where the camera looks flat. Raises
    ValueError with a sentence where the clicks cannot be what they say they are (crossed corners, swapped feet,
    a mirrored picture, no size).
    """
    refuse_impossible(picture=picture, ground=ground, clicks=clicks)
    problem = _Problem.of(picture, ground, clicks)
    matrix = problem.matrices(problem.at[None])[0]
    turn = _turn_for(matrix, clicks, left_handed)
    values = problem.numbers(problem.at[None], turn)[0]
    sds = half_widths(numbers=lambda inputs: problem.numbers(inputs, turn), at=problem.at, sd=problem.sd)
    numbers = {key: Number(value=float(value), half_width=float(half))
               for key, value, half in zip(KEYS, values, sds, strict=True)}
    middle = apply(matrix=_inverse(matrix), points=clicks.feet[[0, 2]]).mean(axis=0)
    large, small = local_scales(matrix=matrix, point=middle)
    down = math.degrees(math.asin(min(1.0, float(small / large))))
    warnings = doubts_about(numbers=numbers, picture=picture, ground=ground, clicks=clicks, matrix=matrix,
                            looking_down_deg=down)
    return Reading(numbers=numbers, warnings=warnings, matrix=matrix, looking_down_deg=down, flagged=bool(warnings))


def grid_lines(*, matrix: Array, along_cm: float, across_cm: float, step_cm: float = 25.0) -> Array:
    """Return the ends (n, 2, 2) in the picture of a grid on the ground, both edges of the rectangle included.

    A straight line stays straight in the picture, so two ends are enough; a bad corner is seen as a grid that
    leaves its mat.
    """
    us, vs = (np.unique(np.append(np.arange(0, size, step_cm), size)) for size in (along_cm, across_cm))
    lines = [((u, 0.0), (u, across_cm)) for u in us] + [((0.0, v), (along_cm, v)) for v in vs]
    return apply(matrix=matrix, points=np.asarray(lines, dtype=np.float64))


def _inverse(matrix: Array) -> Array:
    return np.asarray(np.linalg.inv(matrix), dtype=np.float64)


@dataclass(frozen=True, kw_only=True)
class _Problem:
    """All inputs in one row: clicks (corners, feet, aim), lens, half heel, focal share; and the SD of each."""

    picture: Picture
    ground: Rectangle | Sticks
    corners: int
    at: Array
    sd: Array

    @classmethod
    def of(cls, picture: Picture, ground: Rectangle | Sticks, clicks: Clicks) -> "_Problem":
        points = [clicks.corners, clicks.feet] + ([] if clicks.aim is None else [clicks.aim])
        flat = np.concatenate(points).ravel()
        share = ground.focal_share if isinstance(ground, Sticks) else 0.0
        return cls(
            picture=picture, ground=ground, corners=len(clicks.corners),
            at=np.concatenate([flat, [0.0, HALF_HEEL_CM, 1.0]]),
            sd=np.concatenate([np.full(flat.size, picture.sd_px), [LENS_SD, HALF_HEEL_SD_CM, share]]),
        )

    def points(self, inputs: Array) -> Array:
        """Clicks (k, n, 2) with the lens taken out: the shift grows with the square of the way from the middle."""
        clicked = inputs[:, :-3].reshape(len(inputs), -1, 2)
        middle = np.array([self.picture.width_px, self.picture.height_px]) / 2
        off = clicked - middle
        share = (off**2).sum(-1, keepdims=True) / (middle**2).sum()
        return np.asarray(clicked + off * share * inputs[:, -3, None, None], dtype=np.float64)

    def matrices(self, inputs: Array) -> Array:
        """Ground -> picture (k, 3, 3)."""
        seen = self.points(inputs)[:, :self.corners]
        size = (self.ground.along_cm, self.ground.across_cm)
        if isinstance(self.ground, Rectangle):
            flat = np.array([(0, 0), (size[0], 0), size, (0, size[1])], dtype=np.float64)
            return homography(ground=np.broadcast_to(flat, seen.shape), picture=seen)
        middle = np.array([self.picture.width_px, self.picture.height_px]) / 2
        return np.stack([
            ground_from_sticks(corner=points[0], along=points[1], across=points[2], along_cm=size[0],
                               across_cm=size[1], focal_px=self.ground.focal_px * focal, middle=middle).matrix
            for points, focal in zip(seen, inputs[:, -1], strict=True)
        ])

    def numbers(self, inputs: Array, turn: Array) -> Array:
        """The numbers (k, 7); ``turn`` (2,) holds the signs that make u and v the player's."""
        back = _inverse(self.matrices(inputs))
        flat = apply(matrix=back, points=self.points(inputs)[:, self.corners:]) * turn
        if flat.shape[1] > 5:
            aim = flat[:, 5] - flat[:, 6]
            aim = aim * np.where(aim[:, :1] < 0, -1.0, 1.0)
            flat = turned(points=flat, target_deg=-np.degrees(np.arctan2(aim[:, 1], aim[:, 0])))
        return stance_numbers(feet=flat[:, :5], half_heel_cm=inputs[:, -2])


def _turn_for(matrix: Array, clicks: Clicks, left_handed: bool) -> Array:
    """Signs that turn the rectangle's axes into the player's: trail heel at + u, ball at + v."""
    flat = apply(matrix=_inverse(matrix), points=clicks.feet)
    turn = np.where(np.array([flat[2, 0] - flat[0, 0], flat[4, 1] - (flat[0, 1] + flat[2, 1]) / 2]) < 0, -1.0, 1.0)
    if abs(flat[2, 0] - flat[0, 0]) < abs(flat[2, 1] - flat[0, 1]):
        raise ValueError("the feet stand across the first side of the rectangle; its first side, corner 1 to corner "
                         "2, belongs along the target line")
    toes = (flat[[1, 3], 1] - flat[[0, 2], 1]) * turn[1]
    if np.any(toes <= 0):
        raise ValueError("a toe lies behind its heel, seen from the ball; check which click is which")
    # The ground seen from above: for a right-hander u, v turn against the clock, in a picture with y down.
    slopes = apply(matrix=matrix, points=flat.mean(axis=0) + np.diag(turn)) - apply(
        matrix=matrix, points=flat.mean(axis=0)[None])
    if (np.linalg.det(slopes) > 0) != left_handed:
        hand = "left" if left_handed else "right"
        raise ValueError(f"the feet do not lie as a {hand}-hander's; lead and trail foot may be swapped, or the "
                         "camera mirrored the picture")
    return np.asarray(turn, dtype=np.float64)
