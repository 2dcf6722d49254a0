"""Shots of an on-course lesson are stored here, one by one, and taken back from the last one."""

import uuid
from typing import Any

from django.db.models import Max

from academy.journal import journal
from academy.models import Coach
from lessons.models import CourseShot, Lesson

from .once import made_with


def add_course_shot(*, by: Coach, lesson: Lesson, key: uuid.UUID, hole: int, **values: Any) -> CourseShot:
    """Store the next shot of a hole; the same key sent twice is one shot.

    Raises ValidationError where the key has made another lesson's shot.
    """
    with _journal(by, lesson, f"Hole {hole}: {values['club']}") as entry:
        Lesson.objects.select_for_update().only("pk").get(pk=lesson.pk)
        known = made_with(key, rows=CourseShot.objects.all(), lesson_id=lesson.pk)
        if known is not None:
            return known
        last = lesson.course_shots.filter(hole=hole, removed_at__isnull=True).aggregate(top=Max("number"))["top"]
        shot = CourseShot(code=key, key=key, lesson=lesson, hole=hole, number=(last or 0) + 1, **values)
        entry.create(shot)
    return shot


def undo_course_shot(*, by: Coach, lesson: Lesson) -> CourseShot | None:
    """Take the shot that was stored last out of view; it stays in the record."""
    with _journal(by, lesson, "Last shot on the course taken back") as entry:
        Lesson.objects.select_for_update().only("pk").get(pk=lesson.pk)
        last = lesson.course_shots.filter(removed_at__isnull=True).order_by("pk").last()
        if last is not None:
            entry.remove(last)
    return last


def _journal(by: Coach, lesson: Lesson, sentence: str):
    return journal(by=by, student=lesson.student, lesson_code=lesson.code, sentence=sentence)
