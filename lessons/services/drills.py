"""Giving drills: the card is kept as it was given, with its dose."""

from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone

from academy.journal import journal
from academy.models import Coach
from lessons.library import current_library
from lessons.models import DrillAssignment, Lesson
from metrics.rules.assessment import as_dict
from metrics.rules.records import Drill
from metrics.rules.words import fill

_NOT_ON_CARD = ("areas", "not_for", "patterns", "mark", "source")


@transaction.atomic
def give_drill(*, by: Coach, lesson: Lesson, slug: str, dose: str = "") -> DrillAssignment:
    """Give a drill of the library; one that was given in this lesson already is returned as it is.

    A drill that still runs from an earlier visit ends today: it is practised as it was given last, and what was
    practised of it stays with the earlier row.
    """
    Lesson.objects.select_for_update().only("pk").get(pk=lesson.pk)
    given = next((one for one in lesson.assignments.filter(removed_at__isnull=True) if one.drill == slug), None)
    if given is not None:
        return given
    drill = current_library().drills.get(slug)
    if drill is None:
        raise ValidationError(f"“{slug}” is not a drill of the library.")
    assignment = DrillAssignment(
        student=lesson.student, lesson=lesson, drill=slug, card=card_of(drill, hand=lesson.student.hand),
        dose=(dose or drill.dose)[:120], minutes_week=drill.minutes * 3, starts_on=timezone.localdate(),
    )
    said = f"Drill given: {drill.name}"
    with journal(by=by, student=lesson.student, lesson_code=lesson.code, sentence=said) as entry:
        for earlier in _still_running(lesson, slug):
            entry.update(earlier, ends_on=timezone.localdate())
        entry.create(assignment)
    return assignment


def _still_running(lesson: Lesson, slug: str) -> list[DrillAssignment]:
    rows = DrillAssignment.objects.filter(student=lesson.student, drill=slug, removed_at__isnull=True)
    return list(rows.exclude(ends_on__lte=timezone.localdate()))


def change_dose(*, by: Coach, assignment: DrillAssignment, dose: str, minutes_week: int | None) -> DrillAssignment:
    """Store another dose."""
    with journal(by=by, student=assignment.student, lesson_code=_lesson_code(assignment),
                 sentence=f"Dose of {assignment.name}: {dose}"[:300]) as entry:
        entry.update(assignment, dose=dose, minutes_week=minutes_week)
    return assignment


def take_drill_back(*, by: Coach, assignment: DrillAssignment) -> None:
    """Take a drill out of view; what was practised of it stays, and an earlier one that it ended runs on."""
    ended = DrillAssignment.objects.filter(
        student=assignment.student, drill=assignment.drill, ends_on=assignment.starts_on, removed_at__isnull=True,
    ).exclude(pk=assignment.pk).last()
    with journal(by=by, student=assignment.student, lesson_code=_lesson_code(assignment),
                 sentence=f"Drill taken back: {assignment.name}") as entry:
        entry.remove(assignment)
        if ended is not None:
            entry.update(ended, ends_on=None)


def card_of(drill: Drill, *, hand: str) -> dict[str, Any]:
    """Return a drill as its card shows it, in the words of this player's hand."""
    return {key: _filled(value, hand) for key, value in as_dict(drill).items() if key not in _NOT_ON_CARD}


def _filled(value: Any, hand: str) -> Any:
    if isinstance(value, str):
        return fill(value, hand=hand)
    return [_filled(part, hand) for part in value] if isinstance(value, list) else value


def _lesson_code(assignment: DrillAssignment) -> Any:
    return assignment.lesson.code if assignment.lesson else None
