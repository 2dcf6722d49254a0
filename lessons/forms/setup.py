"""Setup numbers as a person types them: a plain number, or one with its unit or its direction behind it."""

import re
from dataclasses import dataclass
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from lessons.models import SetupObservation
from metrics.checkpoints import BALL_WIDTH_CM, CHECKPOINTS
from metrics.rules.words import unit_suffix

from .typed import TypedNumber

_SUFFIX = re.compile(r"\s*(mm|cm|inches|inch|in|\"|″|x|×|w|widths?|°|deg|%|open|closed)$", re.IGNORECASE)
_CM: dict[str, float] = {"mm": 0.1, "cm": 1.0, "in": 2.54, "w": BALL_WIDTH_CM}
_SAME = {"inches": "in", "inch": "in", '"': "in", "″": "in", "×": "x", "width": "w", "widths": "w", "deg": "°"}
_CLOSED_IS_PLUS = {"feet_deg", "hips_deg", "shoulders_deg"}
SURELY_A_RATIO = 2.0
"""A bare stance width below this is a share of the shoulder width: no stance is 2 cm, none is 2 inches wide."""
_number = TypedNumber()


@dataclass(frozen=True, kw_only=True)
class Entry:
    """A number in the checkpoint's unit, and the text it was typed as. ``value`` None means: take it out."""

    value: float | None
    entered: str


def read_number(*, checkpoint: str, text: str, system: str, shoulder_width_cm: float) -> float:
    """Return the value in the checkpoint's unit. Raises ValidationError naming what, what was found, what is expected.

    Without a unit a stance width is in inches where the coach works in yards, else in cm; everything else is in
    the checkpoint's own unit.
    """
    point = CHECKPOINTS[checkpoint]
    match = _SUFFIX.search(text.strip())
    suffix = match.group(1).lower() if match else ""
    suffix = _SAME.get(suffix, suffix)
    number = _number.clean(text.strip()[:match.start()] if match else text)
    if number is None:
        raise ValidationError(f"{point.label}: “{text}” was found; expected a number such as {_example(checkpoint)}.")
    value = _in_unit(checkpoint, number, suffix, system, shoulder_width_cm)
    if value is None:
        raise ValidationError(f"{point.label}: “{text}” was found; expected {_wanted(point.unit)}.")
    if not point.lower <= value <= point.upper:
        raise ValidationError(
            f"{point.label}: {value:g}{unit_suffix(point.unit)} was found; expected {point.lower:g} to "
            f"{point.upper:g}{unit_suffix(point.unit)}."
        )
    return round(value, 4)


def _in_unit(checkpoint: str, number: float, suffix: str, system: str, shoulders: float) -> float | None:
    """Return the number in the checkpoint's unit, None where the suffix does not belong to it."""
    if checkpoint == "stance_width_ratio":
        if suffix == "x" or (not suffix and 0 <= number < SURELY_A_RATIO):
            return number
        unit = suffix or ("in" if system == "yards" else "cm")
        return number * _CM[unit] / shoulders if unit in _CM and unit != "w" else None
    if checkpoint.endswith(("_cm", "_mm")):
        own = checkpoint[-2:]
        unit = suffix or own
        return number * _CM[unit] / _CM[own] if unit in _CM else None
    if suffix in {"open", "closed"}:
        if checkpoint not in _CLOSED_IS_PLUS | {"face_aim_deg"}:
            return None
        plus = (suffix == "closed") == (checkpoint in _CLOSED_IS_PLUS)
        return abs(number) if plus else -abs(number)
    return number if suffix in {"", CHECKPOINTS[checkpoint].unit} else None


def _wanted(unit: str) -> str:
    return f"a number in {unit}" if unit in {"cm", "mm", "°", "%"} else "a plain number"


def _example(checkpoint: str) -> str:
    return {"stance_width_ratio": "16 in, 41 cm or 1.05x", "ball_position_cm": "3, −1 or 1.5 in"}.get(checkpoint, "3")


class SetupForm(forms.Form):
    """The boxes of the board: ``before-feet_deg``, ``after-feet_deg`` … Only what was changed is read.

    A box that came with ``was-…`` counts as changed where its text differs from that; ``only`` names the one box
    that a script sent. One wrong box does not keep the others out.
    """

    method = forms.ChoiceField(choices=SetupObservation.Method.choices, required=False)

    def __init__(self, data: Any, *, system: str, shoulder_width_cm: float, only: str | None = None) -> None:
        super().__init__(data)
        self.system, self.shoulders, self.only = system, shoulder_width_cm, only
        self.entries: dict[tuple[str, str], Entry] = {}
        self.problems: list[str] = []

    def clean(self) -> dict[str, Any]:
        for phase in SetupObservation.Phase.values:
            for checkpoint in CHECKPOINTS:
                self._read(checkpoint, phase)
        return super().clean()

    def _read(self, checkpoint: str, phase: str) -> None:
        name = f"{phase}-{checkpoint}"
        if name not in self.data or (self.only and self.only != name):
            return
        text = self.data[name].strip()
        if not self.only and text == self.data.get(f"was-{name}", "").strip():
            return
        if len(text) > 40:
            self.problems.append(f"{CHECKPOINTS[checkpoint].label}: the text is too long; expected one number.")
            return
        try:
            value = read_number(checkpoint=checkpoint, text=text, system=self.system,
                                shoulder_width_cm=self.shoulders) if text else None
        except ValidationError as error:
            self.problems.append(_named(checkpoint, error))
        else:
            self.entries[checkpoint, phase] = Entry(value=value, entered=text)


def _named(checkpoint: str, error: ValidationError) -> str:
    label, words = CHECKPOINTS[checkpoint].label, " ".join(error.messages)
    return words if words.startswith(label) else f"{label}: {words}"
