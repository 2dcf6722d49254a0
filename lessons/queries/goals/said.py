"""What is said of one goal, wherever its number is read."""

from dataclasses import dataclass

from metrics.change.words import WORDS, Code, Sentences

SHAPES: dict[str, str] = {
    "established": "held", "likely": "partly", "in_window": "inside", "slipped": "slipped", "overshot": "slipped",
    "cannot_tell": "unknown",
}
"""Verdict -> the shape that stands beside its word."""
AGAIN = "Do the same test again in some weeks."
OUT_OF_DATE = "No such test is kept any more; close this goal and set a new one."


@dataclass(frozen=True, kw_only=True)
class Said:
    """One goal's verdict in words: what was measured and wanted, where it stands, the reason, the next step.

    ``code`` is empty where there is no verdict yet; then ``reason`` says what is missing. ``student`` is None where
    a student need not read anything.
    """

    measure: str
    wanted: str = ""
    now: str = ""
    code: Code | None = None
    reason: str = ""
    next_step: str = ""
    student: Sentences | None = None

    @property
    def word(self) -> str:
        return WORDS[self.code] if self.code else "Not measured yet"

    @property
    def shape(self) -> str:
        return SHAPES.get(self.code or "", "unknown")


def limits(*, lower: float | None, upper: float | None, unit: str) -> str:
    """Return limits in words: "at least 60 %", "at most 12", "40 to 60 %"."""
    if lower is not None and upper is not None:
        return f"{lower:g} to {upper:g}{unit}"
    if lower is not None:
        return f"at least {lower:g}{unit}"
    return f"at most {upper:g}{unit}" if upper is not None else ""


def plain(code: Code, *, label: str) -> Sentences:
    """Return the student's sentences of a test's or round's number, without statistics."""
    reason, following = {
        "cannot_tell": (f"{label}: so far the difference could be luck.", "Go on, and look again in some weeks."),
        "likely": (f"{label}: better than when you set the goal, and by more than luck.", "Keep going."),
        "slipped": (f"{label}: less good than when you set the goal. That happens.", "Look at it with your coach."),
        "in_window": (f"{label}: where you want it.", "Nothing to change here."),
    }[code]
    return Sentences(verdict=WORDS[code], reason=reason, next_step=following)
