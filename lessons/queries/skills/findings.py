"""What the rules say to a run: wedge distance, chip contact, sand, start line, pace. Same engine as full shots."""

import numpy as np

from lessons.evidence import student_health
from lessons.library import overrides_for, stored_library
from metrics.rules.assessment import Assessment
from metrics.rules.engine import evaluate
from metrics.rules.types import BallCall, BlockEvidence, Shots

from .runs import Run

READ_BY_RULES = frozenset({"gate", "pace", "left", "carry", "out"})
"""Kinds of test in which a pattern of the library can show."""


def findings_of(run: Run) -> Assessment | None:
    """Return what the rules say to a run; None where no pattern looks at this kind of test. Four queries at most."""
    if run.design.kind not in READ_BY_RULES or not run.balls:
        return None
    return evaluate(evidence_of(run), library=stored_library())


def evidence_of(run: Run) -> BlockEvidence:
    """Return a run as the rules read a block: errors in per cent of their own target, calls ball by ball."""
    student = run.test.student
    return BlockEvidence(
        club_category=run.design.category, hand=student.hand, handicap_index=student.handicap_index,
        level="beginner" if student.is_beginner else None, shots=_numbers(run), calls=_calls(run),
        balls=len(run.balls), health=student_health(student),
        overrides=overrides_for(student, library=stored_library()),
    )


def _numbers(run: Run) -> Shots:
    if run.design.kind not in {"pace", "carry"}:
        return {}
    targets = np.array([ball.target_m for ball in run.balls])
    values = np.array([ball.value_m if ball.value_m is not None else np.nan for ball in run.balls])
    if run.design.kind == "pace":
        return {"leave_pct": 100 * values / targets}
    # Carries to several targets are scaled to their mean target, so that the spread is one number (CV).
    return {"carry_error_pct": 100 * (values - targets) / targets, "carry_m": values / targets * targets.mean()}


def _calls(run: Run) -> tuple[BallCall, ...]:
    match run.design.kind:
        case "gate":
            return tuple(BallCall(start=ball.side) for ball in run.balls)
        case "left":
            return tuple(BallCall(contact=ball.contact or None) for ball in run.balls)
        case "out":
            return tuple(BallCall(done=ball.done) for ball in run.balls)
    return ()
