"""Working the Monday list: a row is done, or put off with a reason. Both leave a trace and can be undone."""

from collections.abc import Iterable
from datetime import date

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone

from academy.journal import journal
from academy.models import Coach, Student
from lessons.models import MessageText, QueueMark
from lessons.models.office import TEXTS
from lessons.queries.monday.causes import Row


@transaction.atomic
def mark_rows(*, by: Coach, rows: Iterable[Row], until: date | None = None, reason: str = "") -> int:
    """Store that rows are done, or put off until a day; return how many. Putting off asks for a later day and why.
    A row that was marked meanwhile is left alone."""
    if until is not None and until <= timezone.localdate():
        raise ValidationError(f"{until:%-d %B %Y} is not later than today; expected the day to look again.")
    if until is not None and not reason:
        raise ValidationError("Say why it is put off; next week somebody else may read it.")
    rows = _unmarked(list(rows))
    for row in rows:
        mark = QueueMark(student=row.student, cause=row.cause, about=row.about, until=until, reason=reason)
        what = "put off" if until else "done"
        with journal(by=by, student=row.student, sentence=f"{row.student.name}: {row.label.lower()} {what}") as entry:
            entry.create(mark)
    return len(rows)


def _unmarked(rows: list[Row]) -> list[Row]:
    """Take turns on the students and leave out what another tab has marked since the list was read."""
    keys = [row.student.pk for row in rows]
    list(Student.objects.select_for_update().only("pk").filter(pk__in=keys).order_by("pk"))
    marks = QueueMark.objects.filter(student__in=keys, removed_at=None).order_by("pk")
    newest = {(mark.student_id, mark.cause, mark.about): mark for mark in marks}
    return [row for row in rows if newest.get((row.student.pk, row.cause, row.about)) == row.mark]


def take_mark_back(*, by: Coach, mark: QueueMark) -> None:
    """Put a row back on the list."""
    with journal(by=by, student=mark.student, sentence=f"{mark.student.name}: back on the list") as entry:
        entry.remove(mark)


def write_text(*, by: Coach, cause: str, subject: str, body: str) -> MessageText:
    """Store the academy's own text for one cause."""
    row = MessageText.objects.filter(cause=cause).first()
    with journal(by=by, sentence=f"Text changed: {dict(TEXTS)[cause]}") as entry:
        if row is None:
            row = MessageText(cause=cause, subject=subject, body=body)
            entry.create(row)
        else:
            entry.update(row, subject=subject, body=body)
    return row
