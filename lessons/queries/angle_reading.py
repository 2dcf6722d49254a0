"""What a photo says of angles, in words, and which of them go to the board."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from lessons.models import Lesson
from metrics.checkpoints import CHECKPOINTS
from metrics.photo.angles import picture_angles
from metrics.rules.words import directed, number

from .photo_reading import PhotoLine

SHAFT = "shaft_lean_deg"


@dataclass(frozen=True, kw_only=True)
class Angle:
    """One angle for the board; ``camera`` says from where it was seen."""

    value: float
    uncertainty: float
    camera: str
    entered: str = ""


def angles_of(*, lesson: Lesson, asked: Mapping[str, Any], camera: str) -> dict[str, Any]:
    """Return lines for the page and numbers for the board. No query. Raises ValueError with a sentence."""
    found = picture_angles(**asked)
    if not found:
        raise ValueError("nothing can be read yet: click both ends of a line")
    lines = [PhotoLine(
        label=CHECKPOINTS[key].label if key in CHECKPOINTS else "Shaft lean", terms="", kept=key in CHECKPOINTS,
        words=directed(key, value=each.value, hand=lesson.student.hand) if key in CHECKPOINTS else _lean(each.value),
        around=f"±{each.half_width:.0f}°",
    ) for key, each in found.items()]
    numbers = {key: Angle(value=round(each.value, 1), uncertainty=round(each.half_width, 1), camera=camera)
               for key, each in found.items()
               if key in CHECKPOINTS and CHECKPOINTS[key].lower <= each.value <= CHECKPOINTS[key].upper}
    return {"lines": lines, "numbers": numbers, "camera": camera}


def _lean(value: float) -> str:
    side = "hands toward the target" if value >= 0.5 else "hands away from the target" if value <= -0.5 else "upright"
    return f"{number(abs(value), digits=0)}°, {side}"
