"""Classes: opened, filled up to their places, registered, or cancelled for everybody at once."""

import uuid
from datetime import timedelta
from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone

from academy.journal import journal
from academy.models import Coach, Student
from lessons.models import GroupClass, Lesson, Waiting

from .calendar import publish
from .lessons import book_lesson
from .once import made_with
from .packages import give_back_for_lesson, use_for_lesson


@transaction.atomic
def open_class(*, by: Coach, key: uuid.UUID, **values: Any) -> GroupClass:
    """Store a new class; the same key is stored once. ValidationError where somebody else's class has it."""
    Coach.objects.select_for_update().only("pk").get(pk=by.pk)
    found = made_with(key, rows=GroupClass.objects.all(), created_by_id=by.pk)
    if found is not None:
        return found
    one = GroupClass(code=key, **values)
    with journal(by=by, lesson_code=key, sentence=f"Class opened: {one.name}") as entry:
        entry.create(one)
    return one


@transaction.atomic
def join_class(*, by: Coach, group: GroupClass, student: Student) -> Lesson:
    """Register a student: a lesson of their own with the class's hour. ValidationError where the class is full."""
    group = _open(group)
    rows = Lesson.objects.filter(booking__group=group).exclude(status=Lesson.Status.CANCELLED)
    if rows.filter(student=student).exists():
        raise ValidationError(f"{student.name} is in this class already.")
    if rows.count() >= group.capacity:
        raise ValidationError(f"All {group.capacity} places are taken. Put {student.first_name} on the waiting list.")
    lesson = book_lesson(
        by=by, student=student, coach=group.coach, starts_at=group.starts_at, minutes=group.minutes,
        kind=Lesson.Kind.GROUP, venue=group.venue, bay=group.bay, group=group,
    )
    Waiting.objects.filter(student=student, group=group, ended_on=None).update(ended_on=timezone.localdate())
    return lesson


@transaction.atomic
def keep_register(*, by: Coach, group: GroupClass, present: set[str]) -> GroupClass:
    """Note who came, by the lesson's code; the others of the class did not come. Who came uses one of a package."""
    group = _locked(group)
    if group.status == GroupClass.Status.CANCELLED:
        raise ValidationError("This class was cancelled; nobody can have come.")
    with journal(by=by, lesson_code=group.code, sentence=f"Register of {group.name}") as entry:
        for lesson in _lessons(group):
            came = str(lesson.code) in present
            values: dict[str, Any] = {"status": Lesson.Status.FINISHED if came else Lesson.Status.NO_SHOW}
            if came:
                values["finished_at"] = lesson.finished_at or group.starts_at + timedelta(minutes=group.minutes)
            entry.update(lesson, **values)
            (use_for_lesson if came else give_back_for_lesson)(entry=entry, lesson=lesson)
        entry.update(group, status=GroupClass.Status.HELD)
    return group


@transaction.atomic
def cancel_class(*, by: Coach, group: GroupClass, reason: str, note: str = "") -> int:
    """Cancel the class for everybody, in one change that can be undone as one; return how many that were."""
    group = _open(group)
    lessons = _lessons(group)
    with journal(by=by, lesson_code=group.code, sentence=f"Class cancelled: {group.name}") as entry:
        entry.update(group, status=GroupClass.Status.CANCELLED, cancel_reason=reason)
        for lesson in lessons:
            entry.update(lesson, status=Lesson.Status.CANCELLED)
            entry.update(lesson.booking, cancel_reason=reason, cancel_note=note, cancelled_at=timezone.now())
    publish(lessons)
    return len(lessons)


def _lessons(group: GroupClass) -> list[Lesson]:
    rows = Lesson.objects.filter(booking__group=group).exclude(status=Lesson.Status.CANCELLED)
    return list(rows.select_related("student", "booking").order_by("student__name"))


def _open(group: GroupClass) -> GroupClass:
    group = _locked(group)
    if group.status != GroupClass.Status.PLANNED:
        raise ValidationError(f"This class is {group.get_status_display().lower()}; nothing can be changed any more.")
    return group


def _locked(group: GroupClass) -> GroupClass:
    return GroupClass.objects.select_for_update(of=("self",)).get(pk=group.pk)
