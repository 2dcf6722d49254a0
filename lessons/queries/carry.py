"""Carry compared fairly: at the reference condition, or not at all. Reads nothing itself.

A carry that the device worked out has no weather in it; such carries are compared with each other as they stand, and
never with measured ones.
"""

from dataclasses import dataclass, replace
from datetime import date

from lessons.reference_carry import REASONS
from metrics.change.comparable import alike
from metrics.change.question import Question
from metrics.change.verdict import Verdict, judge_change
from metrics.change.words import WORDS, not_alike
from metrics.flight.visit import compare_blocks
from metrics.flight.visits import mean_of_blocks

from .visits import BlockVisit

AS_THEY_STAND = {
    "computed": (
        "These carries were worked out by the device from the launch, so the weather is not in them: they are "
        "compared as they stand."
    ),
    "indoor": (
        "Hit indoors, so the device worked the carries out and the weather is not in them: they are compared as "
        "they stand."
    ),
    "already_normalised": (
        "The device has corrected these carries for the air itself: they are compared as they stand."
    ),
    "not_a_full_flight": "These are not full flights: the carries are compared as they stand.",
    "carry_short": "Carries under 50 yd (46 m) are hardly changed by the air: they are compared as they stand.",
}
"""Refusals that leave a carry comparable with its own kind -> what is said beside the verdict."""


@dataclass(frozen=True, kw_only=True)
class Comparable:
    """The visits that may be compared with each other, what was left out, and what has to be said beside it.

    ``looks`` counts all first looks, those left out with them.
    """

    visits: list[BlockVisit]
    looks: int = 0
    left_out: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    corrected: bool = False


def comparable(*, visits: list[BlockVisit], quantity: str) -> Comparable:
    """Return the visits that may be compared: for carry those stated in the same way as the newest one that can be.

    Their ``visit`` holds the carries at the reference condition where these were measured outdoors.
    """
    if quantity != "carry_m":
        return Comparable(visits=visits)
    looks = sum(visit.is_first_look for visit in visits)
    bases = [_basis(visit) for visit in visits]
    basis = next((basis for basis in reversed(bases) if basis is not None), None)
    kept = [visit for visit, own in zip(visits, bases, strict=True) if own is not None and own == basis]
    left_out = tuple(dict.fromkeys(
        _left_out(visit, own) for visit, own in zip(visits, bases, strict=True)
        if visit.is_first_look and (own is None or own != basis)
    ))
    if basis != "":
        note = (AS_THEY_STAND[basis],) if basis else ()
        return Comparable(visits=kept, looks=looks, left_out=left_out, notes=note)
    stated = [replace(visit, visit=visit.at_reference) for visit in kept]
    words = f"Carry is compared at the reference condition: {stated[-1].reference.reference.words}."
    return Comparable(visits=stated, looks=looks, left_out=left_out, notes=(words,), corrected=True)


def judged(
    *, quantity: str, question: Question | None, before: list[BlockVisit], after: list[BlockVisit], told: Comparable
) -> Verdict | None:
    """Return the verdict on a change; for carry with the model's error between the visits in it.

    None where there is nothing to compare. Where only weather or provenance stand in the way, that is the answer.
    """
    if question is None or not before or not after:
        return _refused(quantity, told) if told.left_out and told.looks > 1 else None
    if told.corrected:
        question = replace(question, model_error=model_error_between(before=before, after=after, question=question))
    verdict = judge_change(
        question=question, before=[look.visit for look in before], after=[look.visit for look in after]
    )
    return replace(verdict, notes=(*verdict.notes, *told.notes, *told.left_out))


def model_error_between(*, before: list[BlockVisit], after: list[BlockVisit], question: Question) -> float:
    """Return what ball model and weather may be wrong by between the two sides [m]; 0 where nothing is compared."""
    reference = max((look.visit for look in after), key=lambda visit: visit.day).conditions
    sides = [
        [look.reference for look in side if look.visit.n >= question.balls_needed and alike(
            first=look.visit.conditions, second=reference, quantity=question.quantity)]
        for side in (before, after)
    ]
    if not all(sides):
        return 0.0
    first, second = (mean_of_blocks(blocks=side) for side in sides)
    return compare_blocks(first=first, second=second).common_error_m


def refusal_words(visit: BlockVisit) -> str:
    """Return why a block's carry is not stated at the reference condition; empty where it is."""
    if visit.reference is None or not visit.reference.refusal:
        return ""
    return visit.why or REASONS[visit.reference.refusal]


def _basis(visit: BlockVisit) -> str | None:
    """Return how a carry may be compared: "" at the reference, a refusal code as it stands, None not at all."""
    if visit.reference is None:
        return None
    if visit.at_reference is not None:
        return ""
    return visit.reference.refusal if visit.reference.refusal in AS_THEY_STAND else None


def _left_out(visit: BlockVisit, basis: str | None) -> str:
    day = f"{date.fromordinal(visit.visit.day):%-d %b %Y}"
    if basis == "":
        return f"{day} left out: measured, while the newest carries are not; the two are not compared."
    return f"{day} left out: {refusal_words(visit) or 'no struck ball has a carry.'}"


def _refused(quantity: str, told: Comparable) -> Verdict:
    coach, student = not_alike(
        told.left_out, next_step="Note temperature and place of each lesson, and say how the device gets its carry.",
    )
    return Verdict(
        code="cannot_tell", word=WORDS["cannot_tell"], quantity=quantity, coach=coach, student=student,
        numbers=None, settle=None, differences=(), notes=(), days_since=None,
    )


