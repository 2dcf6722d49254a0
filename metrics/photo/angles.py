"""Angles in the plane of a photo, from a camera whose place is known: face-on, or down the line.

An angle in a picture is the body's angle only where the camera looks square at it; a camera that stands a step
aside is good for a few degrees. So every angle carries ±3° (common practice, no source) even where the clicks are
exact, and a camera that stands elsewhere gives no angle at all.
"""

import math
from collections.abc import Mapping

from .homography import Array
from .types import Number, Picture

PLACE_DEG = 3.0
"""Half-width of what the camera's place leaves open. Common practice, no source."""
ROLL_SD_DEG = 1.0
"""How level a phone is held or stood, where nothing upright was clicked. A choice."""
SHORTEST_SHARE = 0.03
"""A line shorter than this share of the picture's width is too short to have an angle. A choice."""
PLACES: Mapping[str, tuple[str, ...]] = {
    "face_on": ("lead_shoulder", "trail_shoulder", "neck", "hips", "hands", "head"),
    "down_line": ("neck", "hips", "knee", "ankle"),
}
"""What is clicked, by where the photo was taken from; ``head`` is the clubhead."""
_Lines = dict[str, tuple[float, tuple[float, ...]]]
"""Angles with the lengths of the lines they were read from, pixels."""
UPRIGHT = ("upright_low", "upright_high")
"""Two points of something plumb, such as a post: takes the phone's own tilt out."""
_Z95 = 1.959963984540054


def picture_angles(*, picture: Picture, angle: str, clicks: Mapping[str, Array]) -> dict[str, Number]:
    """Return the angles in degrees that a photo shows, each with its half-width, by checkpoint and ``shaft_lean_deg``.

    angle: "face_on" gives shoulder tilt (+ trail shoulder lower), trunk (+ away from the target) and shaft lean
    (+ hands toward the target); "down_line" gives forward bend and knee flex (0 = straight). clicks: pixels (2,)
    by name, y downward, both hands alike. Only what was clicked is returned. Raises ValueError with a sentence for
    another angle, a line too short, or feet over head.
    """
    if angle not in PLACES:
        raise ValueError("angles are read only from a photo taken face-on or down the line")
    roll, roll_sd = _roll(picture, clicks)
    found = {}
    for key, (value, lengths) in (_face_on if angle == "face_on" else _down_line)(clicks, roll).items():
        if min(lengths) < SHORTEST_SHARE * picture.width_px:
            raise ValueError("two places lie so close together that their line has no angle; click further apart, or "
                             "take the photo from nearer")
        clicked = math.sqrt(sum(2 * (picture.sd_px / length) ** 2 for length in lengths))
        half = math.hypot(PLACE_DEG, _Z95 * math.hypot(math.degrees(clicked), roll_sd))
        found[key] = Number(value=value, half_width=half)
    return found


def _face_on(at: Mapping[str, Array], roll: float) -> _Lines:
    """The trail side is told by the shoulders, so both hands read alike; without them nothing can be signed."""
    if not {"lead_shoulder", "trail_shoulder"} <= at.keys():
        return {}
    run = _turned(at["trail_shoulder"] - at["lead_shoulder"], roll)
    trail = math.copysign(1.0, run[0])
    found: _Lines = {"shoulder_tilt_deg": (math.degrees(math.atan2(run[1], abs(run[0]))), (_length(run),))}
    leans = (("trunk_tilt_deg", "hips", "neck", trail), ("shaft_lean_deg", "head", "hands", -trail))
    for key, low, high, side in leans:
        if {low, high} <= at.keys():
            found[key] = _lean(_turned(at[high] - at[low], roll), side)
    return found


def _down_line(at: Mapping[str, Array], roll: float) -> _Lines:
    found: _Lines = {}
    if {"hips", "neck"} <= at.keys():
        value, lengths = _lean(_turned(at["neck"] - at["hips"], roll), 1.0)
        found["forward_bend_deg"] = (abs(value), lengths)
    if {"hips", "knee", "ankle"} <= at.keys():
        thigh, shin = at["hips"] - at["knee"], at["ankle"] - at["knee"]
        turn = math.atan2(thigh[0] * shin[1] - thigh[1] * shin[0], float(thigh @ shin))
        found["knee_flex_deg"] = (180 - abs(math.degrees(turn)), (_length(thigh), _length(shin)))
    return found


def _lean(run: Array, side: float) -> tuple[float, tuple[float, ...]]:
    """Lean of a line from its low to its high end, from plumb, + toward ``side``."""
    if run[1] >= 0:
        raise ValueError("the upper end of a line lies below its lower end; check which click is which")
    return math.degrees(math.atan2(side * run[0], -run[1])), (_length(run),)


def _roll(picture: Picture, at: Mapping[str, Array]) -> tuple[float, float]:
    """Tilt of the camera in degrees and its SD: from something upright, else taken as level."""
    if not set(UPRIGHT) <= at.keys():
        return 0.0, ROLL_SD_DEG
    value, (length,) = _lean(at["upright_high"] - at["upright_low"], 1.0)
    if abs(value) > 30:
        raise ValueError(f"the upright line leans {abs(value):.0f}° in the picture; expected something plumb")
    return value, math.degrees(math.sqrt(2) * picture.sd_px / length)


def _turned(run: Array, roll_deg: float) -> Array:
    """A way in the picture as a level camera would have seen it."""
    turn = math.radians(-roll_deg)
    cos, sin = math.cos(turn), math.sin(turn)
    run = run.copy()
    run[0], run[1] = cos * run[0] - sin * run[1], sin * run[0] + cos * run[1]
    return run


def _length(run: Array) -> float:
    return math.hypot(float(run[0]), float(run[1]))
