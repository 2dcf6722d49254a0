"""One list for Monday: who needs something, why, what was last said, what to do next. It empties as it is worked.

Twelve queries, however many students there are.
"""

from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from typing import Any

from django.utils import timezone

from academy.models import Coach, Student
from lessons.models import QueueMark
from lessons.models.office import Cause

from .causes import Row, found

TRACE = timedelta(days=28)
ORDER = {cause: place for place, cause in enumerate(
    (Cause.QUESTION, Cause.OVERDUE, Cause.SHEET, Cause.CONSENT, Cause.PACKAGE, Cause.SILENT, Cause.EQUIPMENT)
)}
"""Somebody who waits for an answer first; clubs can wait."""


@dataclass(frozen=True, kw_only=True)
class Monday:
    """The rows that wait, those put off, and what was done lately."""

    waiting: list[Row]
    put_off: list[Row]
    trace: list[QueueMark]

    def counts(self) -> list[tuple[str, str, int]]:
        """Return key, name and number of each cause."""
        return [(key, name, sum(row.cause == key for row in self.waiting)) for key, name in Cause.choices]


def monday(*, coach: Coach, now: datetime) -> Monday:
    """Return the list of everybody this person may see."""
    today = timezone.localdate(now)
    rows = found(coach=coach, today=today, now=now)
    marks = list(
        QueueMark.objects.filter(removed_at=None, student__in=Student.objects.visible_to(coach).here())
        .select_related("created_by")
    )
    newest: dict[tuple[int, str, str], QueueMark] = {}
    for mark in reversed(marks):
        newest[(mark.student_id, mark.cause, mark.about)] = mark
    told = [replace(row, mark=newest.get((row.student.pk, row.cause, row.about))) for row in rows]
    told.sort(key=lambda row: (ORDER[row.cause], row.since or date.min, row.student.name))
    return Monday(
        waiting=[row for row in told if row.waits(today)],
        put_off=[row for row in told if row.mark is not None and row.mark.until is not None and not row.waits(today)],
        trace=trace(coach=coach, since=now - TRACE),
    )


def trace(*, coach: Coach, since: datetime) -> list[QueueMark]:
    """Return what was done or put off lately, newest first. One query."""
    rows = QueueMark.objects.filter(
        removed_at=None, created_at__gte=since, student__in=Student.objects.visible_to(coach)
    )
    return list(rows.select_related("student", "created_by")[:60])


def narrowed(rows: list[Row], asked: Any) -> list[Row]:
    """Return the rows of one cause or one coach, where the address names them."""
    cause, coach = asked.get("cause", ""), asked.get("coach", "")
    return [
        row for row in rows
        if cause in ("", row.cause) and coach in ("", str(row.student.coach.code))
    ]
