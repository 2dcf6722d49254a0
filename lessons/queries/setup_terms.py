"""Distances of the setup in the words of whoever reads: cm, inches, or ball widths and shares of the shoulders."""

from dataclasses import dataclass

from lessons.queries.setup import CM_PER_INCH
from metrics.checkpoints import BALL_WIDTH_CM, CHECKPOINTS
from metrics.rules.words import number

UNITS = {"cm": "cm", "in": "inches", "own": "ball widths and shoulders"}
"""What the board can be switched to."""
_WIDTHS = {"ball_position_cm", "toe_ball_cm", "hand_thigh_cm", "handle_ahead_cm"}
"""Distances that are also spoken of in ball widths."""


@dataclass(frozen=True, kw_only=True)
class Term:
    """How one checkpoint is written: value × factor, digits, suffix. The suffix is one the form reads back."""

    factor: float
    digits: int
    suffix: str

    def text(self, value: float) -> str:
        """Write a value as it stands in its box."""
        shown = number(value * self.factor, digits=self.digits)
        if "." in shown:
            shown = shown.rstrip("0").rstrip(".")
        return shown + self.suffix


def term(*, checkpoint: str, units: str, shoulder_width_cm: float) -> Term:
    """Return how a checkpoint is written in ``units``. Angles, shares and tee heights are the same in all."""
    point = CHECKPOINTS[checkpoint]
    if checkpoint == "stance_width_ratio":
        if units == "own":
            return Term(factor=1, digits=2, suffix="x")
        per_unit = CM_PER_INCH if units == "in" else 1
        return Term(factor=shoulder_width_cm / per_unit, digits=1, suffix=f" {units}")
    if checkpoint.endswith("_cm") and units == "in":
        return Term(factor=1 / CM_PER_INCH, digits=2, suffix=" in")
    if checkpoint in _WIDTHS and units == "own":
        return Term(factor=1 / BALL_WIDTH_CM, digits=2, suffix=" w")
    if checkpoint.endswith("_cm"):
        return Term(factor=1, digits=1, suffix=" cm")
    return Term(factor=1, digits=max(point.digits, 1), suffix="")


def other_terms(*, checkpoint: str, value: float, shoulder_width_cm: float) -> str:
    """Return a distance in the other units it is spoken of, or nothing for what is not a distance on the ground."""
    if checkpoint == "stance_width_ratio":
        cm = value * shoulder_width_cm
        return f"{number(cm, digits=0)} cm, {number(cm / CM_PER_INCH, digits=1)} in"
    if checkpoint in _WIDTHS:
        return f"{number(value / CM_PER_INCH, digits=1)} in, {number(value / BALL_WIDTH_CM, digits=1)} ball widths"
    return ""
