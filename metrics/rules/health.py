"""The gates before any pattern: a red flag, pain while swinging. Not medical advice; the texts are data."""

from metrics.rules.assessment import Gate
from metrics.rules.records import Drill, Library
from metrics.rules.types import BlockEvidence

PAIN_STOP = 4
"""From this pain (of 10) on, and for any new pain while swinging, no pattern is shown. Common practice."""
RED_FLAG, PAIN = "red_flag", "pain"


def health_gate(evidence: BlockEvidence, *, library: Library) -> Gate | None:
    """Return the gate that stops the lesson as planned, or None."""
    health = evidence.health
    if health.red_flag:
        return _gate(RED_FLAG, library, "")
    if health.max_pain >= PAIN_STOP or health.new_pain:
        return _gate(PAIN, library, _areas(evidence, library))
    return None


def _gate(key: str, library: Library, areas: str) -> Gate:
    text = library.safety[key]
    return Gate(key=key, text=(text.text + " " + areas).strip(), offers=text.offers)


def _areas(evidence: BlockEvidence, library: Library) -> str:
    known = [library.cautions[area] for area in evidence.health.areas if area in library.cautions]
    return " ".join(f"{c.label}: leave out {c.avoid}; instead {c.instead}." for c in known)


def body_notes(evidence: BlockEvidence, *, library: Library) -> list[str]:
    """Return what to leave out and do instead for each sore area below the stop, in the player's order."""
    known = [library.cautions[area] for area in evidence.health.areas if area in library.cautions]
    return [f"{c.label} reported sore: leave out {c.avoid}; instead {c.instead}." for c in known]


def drill_fits(drill: Drill, *, pattern: str, evidence: BlockEvidence) -> bool:
    """False where the drill loads a reported sore area, or is not meant for players with this pattern."""
    return not (set(drill.areas) & set(evidence.health.areas)) and pattern not in drill.not_for
