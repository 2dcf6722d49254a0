"""Storing the one change of the visit."""

from typing import Any

from django.db import transaction

from academy.journal import journal
from academy.models import Coach
from lessons.models import Finding, Lesson, Prescription
from lessons.queries.setup import work_block
from lessons.services.findings import found_pattern


@transaction.atomic
def choose_change(*, by: Coach, lesson: Lesson, pattern: str = "", **values: Any) -> Prescription:
    """Store the lesson's one change; choosing again replaces what was chosen.

    ``pattern`` ties it to the finding it answers, which is kept with its evidence where it was not yet.
    """
    Lesson.objects.select_for_update().only("pk").get(pk=lesson.pk)
    stored = lesson.prescriptions.filter(removed_at__isnull=True).last()
    with journal(by=by, student=lesson.student, lesson_code=lesson.code,
                 sentence=f"The one change: {values['change']}"[:300]) as entry:
        finding = _finding(lesson, pattern)
        if finding is not None and finding.pk is None:
            entry.create(finding)
        if stored is None:
            stored = Prescription(lesson=lesson, finding=finding, **values)
            entry.create(stored)
        else:
            entry.update(stored, finding=finding, **values)
    return stored


def _finding(lesson: Lesson, pattern: str) -> Finding | None:
    """Return the stored finding of a pattern, a new one where it was only shown, None where there is none."""
    if not pattern:
        return None
    stored = lesson.findings.filter(pattern=pattern, removed_at__isnull=True).last()
    block = work_block(lesson)
    return stored or (found_pattern(lesson=lesson, block=block, pattern=pattern) if block else None)
