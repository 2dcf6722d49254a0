"""Foretold against seen: what each change should have done, what it did, and how strongly this player answers."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from lessons.library import stored_library
from lessons.models import Prescription
from lessons.own_record import LOOK_BACK_DAYS, moved_at
from lessons.pictures.svg import signed, with_unit
from lessons.queries.visits import BlockVisit
from metrics.change.comparable import differences
from metrics.change.model import change_between, same_day
from metrics.change.question import Question
from metrics.change.responses import Outcome, ResponseSize, response_size
from metrics.change.words import shown
from metrics.checkpoints import CHECKPOINTS
from metrics.fields import FIELDS
from metrics.rules.predict import per_unit_of
from metrics.rules.types import BlockEvidence
from metrics.units import display, display_digits, display_unit

from .luck import spreads_of

FEWEST = 5


@dataclass(frozen=True, kw_only=True)
class ChangeSeen:
    """One change of the past: the words it was given, what was foretold, what was seen, and what that means."""

    day: date
    change: str
    foretold: str
    seen: str
    word: str
    outcome: Outcome | None
    checkpoint: str


@dataclass(frozen=True, kw_only=True)
class Foretold:
    """All changes of one number with one kind of club, newest first, and what was learned from them in words."""

    changes: list[ChangeSeen]
    learned: str


def foretold(*, question: Question, category: str, changes: Iterable[Prescription], visits: list[BlockVisit],
             now: datetime) -> Foretold:
    """Return every change whose visit has balls without aids before and after it. One query, two for the library."""
    by_lesson = {change.lesson_id: change for change in changes}
    moved = moved_at(list(by_lesson), category)
    seen = []
    for lesson, change in by_lesson.items():
        plain = [visit for visit in visits if visit.lesson.pk == lesson and not visit.block.aids
                 and visit.block.purpose not in ("adapt", "transfer") and visit.visit.n >= FEWEST]
        if len(plain) >= 2:
            seen.append(_seen(question, change, plain, moved.get(lesson, {}), now))
    return Foretold(changes=seen, learned=_learned(question, category, seen))


def _seen(question: Question, change: Prescription, plain: list[BlockVisit], moved: dict[str, float],
          now: datetime) -> ChangeSeen:
    first, last = plain[0], plain[-1]
    parts = same_day(spreads_of(question, [first], [last]))
    found = change_between(before=[first.visit], after=[last.visit], parts=parts)
    expected = (change.expected or {}).get(question.quantity)
    why_not = _unfair(question, change, first, last, moved, now)
    amount = moved.get(change.checkpoint) or 0.0
    predicted = sum(expected) / len(expected) if expected else None
    outcome = None
    if amount and predicted is not None:
        outcome = Outcome(amount=amount, predicted=predicted, seen=found.delta, se=found.se, fair=not why_not)
    return ChangeSeen(
        day=date.fromordinal(first.visit.day), change=change.change, checkpoint=change.checkpoint, outcome=outcome,
        foretold=_span(expected, question), word=_word(expected, found.delta, found.se, why_not),
        seen=f"{shown(found.delta, question=question, signed=True)} ± {shown(1.96 * found.se, question=question)} "
             f"(n {first.visit.n}, {last.visit.n})",
    )


def _unfair(question: Question, change: Prescription, first: BlockVisit, last: BlockVisit, moved: dict[str, float],
            now: datetime) -> str:
    """Return why nothing is learned from a change; empty where it counts."""
    if len(moved) > 1:
        return "several things were moved that day"
    if change.checkpoint not in moved:
        return "the setup was not measured after the change"
    unlike = [d.factor for d in differences(before=first.visit.conditions, after=last.visit.conditions,
                                            quantity=question.quantity) if d.blocks]
    if set(unlike) - {"feedback_shown"}:
        return "the two blocks were not alike"
    if now - change.lesson.starts_at > timedelta(days=LOOK_BACK_DAYS):
        return f"older than {LOOK_BACK_DAYS} days"
    return ""


def _span(expected: list[float] | None, question: Question) -> str:
    if not expected:
        return "nothing for this number"
    low, high = (shown(edge, question=question, signed=True) for edge in (min(expected), max(expected)))
    return low if low == high else f"{low} to {high}"


def _word(expected: list[float] | None, seen: float, se: float, why_not: str) -> str:
    """Return what to make of it: outside the foretold range by more than luck, or not."""
    if not expected:
        word = "only seen"
    elif min(expected) - 1.96 * se <= seen <= max(expected) + 1.96 * se:
        word = "as foretold, within luck"
    else:
        middle = (min(expected) + max(expected)) / 2
        further = abs(seen) > abs(middle) and seen * middle > 0
        word = "more than foretold" if further else "less than foretold" if seen * middle > 0 else "the other way"
    return f"{word}; kept, not learned from: {why_not}" if why_not else word


def _learned(question: Question, category: str, seen: list[ChangeSeen]) -> str:
    """Say the player's own size for the newest change's checkpoint; empty where no usual size is kept for it."""
    known = next((change for change in seen if change.outcome is not None), None)
    if known is None:
        return ""
    usual = usual_effects(checkpoint=known.checkpoint, category=category).get(question.quantity)
    if usual is None:
        return ""
    outcomes = [c.outcome for c in reversed(seen) if c.outcome is not None and c.checkpoint == known.checkpoint]
    return _size_words(question, known.checkpoint, response_size(
        shipped=sum(usual) / 2, outcomes=outcomes, label=FIELDS[question.quantity].label.lower()))


def usual_effects(*, checkpoint: str, category: str) -> dict[str, tuple[float, float]]:
    """Return the library's usual effect for one unit of a checkpoint: quantity -> lowest and highest. Two queries."""
    evidence = BlockEvidence(club_category=category)
    found: dict[str, tuple[float, float]] = {}
    for row in stored_library().effects:
        # A size that is known as a share only is no size of the number itself.
        if row.checkpoint == checkpoint and not row.unit and (not row.clubs or category in row.clubs):
            per_unit = per_unit_of(row, evidence=evidence)
            if per_unit is not None:
                found.setdefault(row.quantity, per_unit)
    return found


def _size_words(question: Question, checkpoint: str, found: ResponseSize) -> str:
    point = CHECKPOINTS[checkpoint]
    unit = "degree" if point.unit == "°" else f"1 {point.unit}".strip()
    each = f"for each {unit} of {point.label.lower()}"
    usual, next_time = (_fine(value, question) for value in (found.shipped, found.per_unit))
    if not found.repeats:
        return f"No own result yet: the usual size, {usual} {each}, is used."
    return (f"Usual size {usual} {each}; this player’s own {_fine(found.own_mean, question)} from {found.repeats} "
            f"change{'s' if found.repeats != 1 else ''}, counted {100 * found.weight:.0f} %: next time {next_time} is "
            "foretold.")


def _fine(value: float, question: Question) -> str:
    """A size per unit of a checkpoint needs a digit more than the number itself."""
    factor = display(field_key=question.quantity, value=1.0, system=question.system)[0]
    unit = display_unit(field_key=question.quantity, system=question.system)
    digits = display_digits(field_key=question.quantity, system=question.system) + 1
    return with_unit(signed(value * factor, digits), unit)
