"""Whom to look up in the demo: the students of the scenarios, each with what to look at and the way there."""

from dataclasses import dataclass

from academy.models import Coach, Student
from lessons.models import ImportBatch, Lesson


@dataclass(frozen=True, kw_only=True)
class Signpost:
    """One student of a scenario. ``file`` is one that was looked at and waits to be taken in."""

    student: Student
    last: Lesson | None
    next: Lesson | None
    file: ImportBatch | None


def signposts(*, coach: Coach) -> list[Signpost]:
    """Return the scenarios among the students this person may see, in the order of the demo. Three queries."""
    students = list(Student.objects.visible_to(coach).exclude(demo_hint="").select_related("coach").order_by("pk"))
    rows = Lesson.objects.filter(
        student__in=students, status__in=[Lesson.Status.FINISHED, Lesson.Status.RUNNING, Lesson.Status.PLANNED],
    ).only("code", "status", "student_id", "starts_at").order_by("starts_at")
    last, coming = {}, {}
    for lesson in rows:
        if lesson.status == Lesson.Status.PLANNED:
            coming.setdefault(lesson.student_id, lesson)
        else:
            last[lesson.student_id] = lesson
    waiting = ImportBatch.objects.filter(lesson__student__in=students, stored_at=None, removed_at=None)
    files = {batch.lesson.student_id: batch for batch in waiting.select_related("lesson").defer("raw_deflated")}
    return [
        Signpost(student=one, last=last.get(one.pk), next=coming.get(one.pk), file=files.get(one.pk))
        for one in students
    ]
