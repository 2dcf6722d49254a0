"""What became of a visit's gain: with the aids away, at the next first ten, on mixed balls. Reads nothing itself."""

from collections.abc import Callable, Iterable
from dataclasses import replace

from lessons.models import Lesson
from lessons.queries.carry import Comparable, model_error_between
from lessons.queries.visits import BlockVisit
from metrics.change.aids import AidDependency, aid_dependency
from metrics.change.comparable import differences
from metrics.change.question import Question
from metrics.change.retention import Retention, retention, transfer


def aids_of(question: Question, visits: list[BlockVisit]) -> AidDependency | None:
    """Compare the newest block with aids with the last like block without them of the same visit."""
    for aided in reversed([visit for visit in visits if visit.block.aids]):
        plain = [visit for visit in _of_lesson(visits, aided) if not visit.block.aids and not visit.is_first_look
                 and _same_visit_alike(aided, visit, question)]
        if plain:
            return aid_dependency(
                question=question, with_aids=aided.visit, without=plain[-1].visit,
                aid_first=aided.block.position < plain[-1].block.position,
            )
    return None


def retention_of(question: Question, visits: list[BlockVisit], told: Comparable) -> tuple[Retention | None, bool]:
    """Follow the gain of the visit before the newest first ten to that first ten, and say whether aids made it.

    A gain without aids is followed where there was one; else one that was made with aids.
    """
    tens = [visit for visit in visits if visit.block.purpose == "first_ten"]
    if not tens:
        return None, False
    later = tens[-1]
    earlier = [visit for visit in visits if visit.visit.day < later.visit.day]
    if not earlier:
        return None, False

    def follow(start: BlockVisit, end: BlockVisit) -> Retention:
        asked = _with_air(question, told, start, later)
        return retention(question=asked, baseline=start.visit, end=end.visit, later=later.visit)

    return _followed(question, _of_lesson(earlier, earlier[-1]), follow)


def transfer_of(question: Question, visits: list[BlockVisit], told: Comparable) -> tuple[Retention | None, bool]:
    """Follow the newest gain before the newest mixed block or block from the course to it."""
    mixed = next((visit for visit in reversed(visits) if is_transfer(visit)), None)
    if mixed is None:
        return None, False
    until = [visit for visit in visits if not is_transfer(visit) and _order(visit) < _order(mixed)]

    def follow(start: BlockVisit, end: BlockVisit) -> Retention:
        asked = _with_air(question, told, start, mixed)
        return transfer(question=asked, baseline=start.visit, end=end.visit, mixed=mixed.visit)

    found: tuple[Retention | None, bool] = (None, False)
    for lesson in dict.fromkeys(visit.lesson.pk for visit in reversed(until)):
        found = _followed(question, [visit for visit in until if visit.lesson.pk == lesson], follow)
        if found[0] is not None:
            break
    return found


def is_transfer(visit: BlockVisit) -> bool:
    """Whether these balls were mixed from ball to ball, or hit on the course, without aids."""
    return not visit.block.aids and (
        visit.block.purpose == "transfer" or visit.block.is_mixed or visit.lesson.kind == Lesson.Kind.COURSE)


def _followed(question: Question, of_visit: list[BlockVisit],
              follow: Callable[[BlockVisit, BlockVisit], Retention]) -> tuple[Retention | None, bool]:
    start = next((visit for visit in of_visit if visit.is_first_look), None)
    if start is None:
        return None, False
    ends = [visit for visit in of_visit if visit is not start and not is_transfer(visit)
            and visit.block.purpose != "adapt" and _same_visit_alike(start, visit, question)]
    tried = []
    for with_aids in (False, True):
        end = next((visit for visit in reversed(ends) if bool(visit.block.aids) == with_aids), None)
        if end is not None:
            tried.append((follow(start, end), with_aids))
    kept = next((pair for pair in tried if pair[0].code not in ("no_gain", "too_few")), None)
    return kept or (tried[0] if tried else (None, False))


def _with_air(question: Question, told: Comparable, first: BlockVisit, second: BlockVisit) -> Question:
    """The question with what the air's correction may be wrong by between two days in it."""
    if not told.corrected:
        return question
    return replace(question, model_error=model_error_between(before=[first], after=[second], question=question))


def _of_lesson(visits: Iterable[BlockVisit], like: BlockVisit) -> list[BlockVisit]:
    return [visit for visit in visits if visit.lesson.pk == like.lesson.pk]


def _same_visit_alike(first: BlockVisit, second: BlockVisit, question: Question) -> bool:
    """Whether two blocks of a visit differ in nothing that matters but the aids and the shown numbers."""
    found = differences(before=first.visit.conditions, after=second.visit.conditions, quantity=question.quantity)
    return not any(d.blocks and d.factor not in ("aids", "feedback_shown") for d in found)


def _order(visit: BlockVisit) -> tuple:
    return visit.lesson.starts_at, visit.block.position
