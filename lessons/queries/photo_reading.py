"""What a photo says, in words: each number with its ±, which of them go to the board, and the grid to lay over it."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from lessons.models import Lesson
from lessons.queries.setup import shoulder_width
from lessons.queries.setup_terms import other_terms
from metrics.checkpoints import CHECKPOINTS
from metrics.photo.reading import grid_lines, read_photo
from metrics.photo.types import Number, Reading, Rectangle
from metrics.rules.words import directed, unit_suffix

STORED = ("stance_width_ratio", "ball_position_cm", "feet_deg", "lead_flare_deg", "trail_flare_deg", "toe_ball_cm")
"""What a photo gives that the board keeps."""


@dataclass(frozen=True, kw_only=True)
class FromPhoto:
    """One number for the board; ``uncertainty`` is the half-width of its 95 % interval."""

    value: float
    entered: str
    uncertainty: float


@dataclass(frozen=True, kw_only=True)
class PhotoLine:
    """One number of the answer. ``kept`` says whether the board has a place for it."""

    label: str
    words: str
    around: str
    terms: str
    kept: bool


def reading_of(*, lesson: Lesson, asked: Mapping[str, Any]) -> dict[str, Any]:
    """Return lines, warnings and the grid for clicks. No query. Raises ValueError with a sentence for the coach."""
    reading = read_photo(left_handed=lesson.student.left_handed, **asked)
    shoulders, hand = shoulder_width(lesson), lesson.student.hand
    numbers = for_board(reading=reading, shoulder_width_cm=shoulders)
    lines = [PhotoLine(
        label=CHECKPOINTS[key].label, words=directed(key, value=found.value, hand=hand), kept=True,
        around=_around(key, found.uncertainty),
        terms=other_terms(checkpoint=key, value=found.value, shoulder_width_cm=shoulders),
    ) for key, found in numbers.items()]
    toes = reading.numbers["toes_deg"]
    lines.append(_loose("Line of the toes", toes, directed("feet_deg", value=toes.value, hand=hand), "°"))
    ground = asked["ground"]
    grid = grid_lines(matrix=reading.matrix, along_cm=ground.along_cm, across_cm=ground.across_cm)
    return {
        "click_px": round(asked["picture"].sd_px, 1), "picture_px": round(asked["picture"].width_px),
        "lines": lines, "warnings": reading.warnings, "numbers": numbers,
        "is_rectangle": isinstance(ground, Rectangle),
        "grid": " ".join(f"{value:.1f}" for value in grid.ravel()), "looking_down": round(reading.looking_down_deg),
    }


def for_board(*, reading: Reading, shoulder_width_cm: float) -> dict[str, FromPhoto]:
    """Return the numbers the board keeps, in the checkpoints' units; one that lies past a checkpoint's limits is
    left out: no stance is like that."""
    whole = {key: number for key, number in reading.numbers.items() if key in STORED}
    width = reading.numbers["stance_width_cm"]
    whole["toe_ball_cm"] = reading.numbers["ball_distance_cm"]
    whole["stance_width_ratio"] = Number(
        value=width.value / shoulder_width_cm, half_width=width.half_width / shoulder_width_cm)
    return {
        key: FromPhoto(value=round(whole[key].value, 4), entered="", uncertainty=round(whole[key].half_width, 3))
        for key in STORED if CHECKPOINTS[key].lower <= whole[key].value <= CHECKPOINTS[key].upper
    }


def _around(key: str, half: float) -> str:
    return f"±{half:.2f} ×" if key == "stance_width_ratio" else f"±{half:.1f}{unit_suffix(CHECKPOINTS[key].unit)}"


def _loose(label: str, found: Number, words: str, unit: str) -> PhotoLine:
    return PhotoLine(label=label, words=words, around=f"±{found.half_width:.1f}{unit}", terms="", kept=False)
