"""What each return visit said of the change in work: the outcomes that a series bends by."""

from collections.abc import Iterable
from datetime import date

from django.utils import timezone

from academy.models import HealthFlag, Student
from lessons.queries.carry import Comparable, comparable, judged
from lessons.queries.held import InWork, in_work, question_of, sides
from lessons.queries.progress.carried import retention_of
from lessons.queries.visits import BlockVisit, block_visits
from metrics.change.question import Question
from metrics.plans.types import Outcome, VisitResult
from metrics.units import System

_KEPT: dict[str, Outcome] = {"held": "kept", "partly": "partly", "lost": "lost"}
_JUDGED: dict[str, Outcome] = {
    "likely": "kept", "established": "kept", "in_window": "kept", "overshot": "partly", "slipped": "worse",
    "cannot_tell": "unknown", "better_today": "unknown",
}


def results_of(*, student: Student, system: System, flags: Iterable[HealthFlag] | None = None,
               ) -> tuple[VisitResult, ...]:
    """Return one result for each finished visit with a first ten since the change, oldest first.

    ``flags``: every health entry of the student, where they are read already. Seven queries at most.
    """
    work = in_work(student=student)
    if work is None:
        return ()
    visits = block_visits(student=student, quantity=work.quantity, category=work.category)
    told = comparable(visits=visits, quantity=work.quantity)
    if not told.visits:
        return ()
    question = question_of(student=student, work=work, visits=told.visits, system=system)
    before, after = sides(looks=[visit for visit in told.visits if visit.is_first_look], work=work)
    pain = _pain_by_day(HealthFlag.objects.filter(student=student) if flags is None else flags)
    return tuple(_result(look, question, work, told, before, pain) for look in after)


def _result(look: BlockVisit, question: Question, work: InWork, told: Comparable, before: list[BlockVisit],
            pain: dict[date, int]) -> VisitResult:
    day = timezone.localdate(look.lesson.starts_at)
    return VisitResult(
        day=day, outcome=_outcome(look, question, work, told, before), in_window=_in_window(look, question),
        practised=look.lesson.practised, pain=pain.get(day, 0),
    )


def _outcome(look: BlockVisit, question: Question, work: InWork, told: Comparable, before: list[BlockVisit],
             ) -> Outcome:
    """The share of the last gain that was there; where there was no gain to keep, the verdict against before."""
    until = [visit for visit in told.visits if visit.visit.day <= look.visit.day]
    kept, _ = retention_of(question, until, told)
    verdict = judged(quantity=work.quantity, question=question, before=before, after=[look], told=told)
    against = _JUDGED.get(verdict.code, "unknown") if verdict else "unknown"
    if against == "worse" or kept is None or kept.code not in _KEPT:
        return against
    return _KEPT[kept.code]


def _in_window(look: BlockVisit, question: Question) -> bool:
    window = question.goal.window
    return window is not None and bool(look.visit.n) and window.lo <= look.visit.mean <= window.hi


def _pain_by_day(flags: Iterable[HealthFlag]) -> dict[date, int]:
    found: dict[date, int] = {}
    for flag in flags:
        day = timezone.localdate(flag.reported_at)
        found[day] = max(found.get(day, 0), flag.severity)
    return found
