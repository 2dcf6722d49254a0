"""Sentences to say before it happens: what a check will do to the flight, what to look at again."""

from metrics.checkpoints import BALL_WIDTH_CM
from metrics.rules.assessment import CheckShown
from metrics.rules.states import PatternResult
from metrics.rules.types import BlockEvidence
from metrics.rules.words import fill, number

ALWAYS = "always"


def finding_warnings(result: PatternResult, *, checks: tuple[CheckShown, ...], evidence: BlockEvidence) -> list[str]:
    """Return the pattern's warnings that fit the checks about to be made."""
    moved = {check.checkpoint for check in checks}
    return list(dict.fromkeys(fill(w.text, hand=evidence.hand) for w in result.pattern.warnings
                              if w.when == ALWAYS or w.when in moved))


def block_warnings(evidence: BlockEvidence) -> list[str]:
    """Return what to look at first because the setup was changed just before this block."""
    change = evidence.change
    if change is None or change.checkpoint != "ball_position_cm" or change.before == change.after:
        return []
    widths = abs(change.after - change.before) / BALL_WIDTH_CM
    way, lines = ("forward", "open") if change.after < change.before else ("back", "closed")
    return [f"The ball moved {way} by {number(widths, digits=1)} ball widths: shoulders tend to turn {lines} with "
            "it, so check the shoulder line before reading these balls."]
