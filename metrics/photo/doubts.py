"""What is wrong with a view: refused where nothing can be read, warned of where the numbers are soft."""

from collections.abc import Mapping

import numpy as np

from .homography import Array
from .sticks import ground_from_sticks
from .types import Clicks, Number, Picture, Rectangle, Sticks

WANTED = {"feet_deg": 1.2, "stance_width_cm": 1.2}
"""Half-widths of the 95 % interval from which on a view is warned of. Set so that, over all views that are not,
foot line and stance width lie within 1.0° and 1.0 cm in 95 of 100: at 1.0 it was 97 of 100 and two thirds of the
views were warned of, at 1.2 it is 96 and about half, at 1.3 it falls to 95. The test of drawn views holds it there.
"""
FLAT_DEG = 24.0
"""Looking down less than this, a toe 1 cm above the ground is already read 2 cm too far away. A choice."""
SMALL_SHARE = 0.3
"""The rectangle's longest side as a share of the picture's width. A choice."""
_UNITS = {"feet_deg": "°", "stance_width_cm": " cm"}
_NAMES = {"feet_deg": "the foot line", "stance_width_cm": "the stance width"}


def refuse_impossible(*, picture: Picture, ground: Rectangle | Sticks, clicks: Clicks) -> None:
    """Raise ValueError with a sentence where sizes or clicks cannot be."""
    wanted = 4 if isinstance(ground, Rectangle) else 3
    if clicks.corners.shape != (wanted, 2) or clicks.feet.shape != (5, 2):
        raise ValueError(f"{len(clicks.corners)} corners and {len(clicks.feet)} clicks on feet and ball were given; "
                         f"expected {wanted} and 5")
    for name, size in (("along the target line", ground.along_cm), ("across it", ground.across_cm)):
        if not 10 <= size <= 1000:
            raise ValueError(f"a side {name} of {size:g} cm was given; expected 10 to 1000 cm")
    whole = np.concatenate([clicks.corners, clicks.feet])
    if not np.isfinite(whole).all() or np.any(whole < 0) or np.any(whole > [picture.width_px, picture.height_px]):
        raise ValueError("a click lies outside the picture; expected all of them inside")
    if wanted == 4:
        steps = np.roll(clicks.corners, -1, axis=0) - clicks.corners
        nexts = np.roll(steps, -1, axis=0)
        bends = steps[:, 0] * nexts[:, 1] - steps[:, 1] * nexts[:, 0]
        if not (np.all(bends > 0) or np.all(bends < 0)):
            raise ValueError("the corners do not go round the rectangle; click one after the other along its edge")


def doubts_about(
    *, numbers: Mapping[str, Number], picture: Picture, ground: Rectangle | Sticks, clicks: Clicks, matrix: Array,
    looking_down_deg: float,
) -> tuple[str, ...]:
    """Return the warnings of a view, each with what to do; none where the promised exactness is reached."""
    said = []
    soft = [f"{_NAMES[key]} is known to ±{numbers[key].half_width:.1f}{_UNITS[key]} only"
            for key, limit in WANTED.items() if numbers[key].half_width > limit]
    flat = looking_down_deg < FLAT_DEG
    small = np.ptp(clicks.corners[:, 0]) < SMALL_SHARE * picture.width_px
    if flat:
        said.append(f"The view is too flat: the camera looks down at {looking_down_deg:.0f}°. Hold it higher, at "
                    "arm’s length above the head, and aim it down.")
    if small:
        said.append("The rectangle is too small in the picture. Go nearer, or lay out a larger one.")
    if soft:
        words = " and ".join(soft)
        said.append(f"{words[0].upper()}{words[1:]}."
                    + ("" if flat or small else " Go nearer and hold the camera higher."))
    if isinstance(ground, Rectangle):
        if _sides_swapped(matrix, picture, ground):
            said.append("The picture fits better with the two side lengths the other way round. Check which side "
                        "runs along the target line.")
    elif _doubtful_sticks(ground, clicks, picture):
        said.append("Two places of the camera fit these sticks. Lay a rectangle, or take the photo from higher up.")
    return tuple(said)


def _sides_swapped(matrix: Array, picture: Picture, ground: Rectangle) -> bool:
    """Some focal length must make both axes square and equally long; if only the swapped sides do, say so."""
    other = matrix @ np.diag([ground.along_cm / ground.across_cm, ground.across_cm / ground.along_cm, 1.0])
    as_said, swapped = _misfit(matrix, picture), _misfit(other, picture)
    return as_said > 0.02 and swapped < 0.2 * as_said


def _misfit(matrix: Array, picture: Picture) -> float:
    focal = np.geomspace(0.5, 3.0, 60) * picture.width_px
    off = matrix[:2, :2] - np.array([[picture.width_px / 2], [picture.height_px / 2]]) * matrix[2:, :2]
    first, second = (np.stack([off[0, i] / focal, off[1, i] / focal, np.full(60, matrix[2, i])]) for i in (0, 1))
    long, wide = np.linalg.norm(first, axis=0), np.linalg.norm(second, axis=0)
    square = (first * second).sum(0) / (long * wide)
    return float((square**2 + np.log(long / wide) ** 2).min())


def _doubtful_sticks(ground: Sticks, clicks: Clicks, picture: Picture) -> bool:
    return ground_from_sticks(
        corner=clicks.corners[0], along=clicks.corners[1], across=clicks.corners[2], along_cm=ground.along_cm,
        across_cm=ground.across_cm, focal_px=ground.focal_px,
        middle=np.array([picture.width_px, picture.height_px]) / 2,
    ).doubtful
