"""Plans and events are stored here, in versions. A proposal becomes a plan only because a coach took it."""

import uuid
from datetime import date
from typing import Any

from django.utils import timezone

from academy.journal import Entry, journal
from academy.models import Coach, Student
from lessons.models import Lesson, Plan, StudentEvent


def keep_plan(
    *, by: Coach, student: Student, kind: str, title: str, body: dict[str, Any], starts_on: date, reason: str = "",
    lesson: Lesson | None = None, replaces: Plan | None = None,
) -> Plan:
    """Store a plan, or the next version of one; a series, season or practice plan before it ends with it."""
    code = lesson.code if lesson else None
    said = f"Plan kept: {title}" if replaces is None else f"Plan changed: {title}"
    with journal(by=by, student=student, lesson_code=code, sentence=f"{said}. {reason}"[:300]) as entry:
        Student.objects.select_for_update().only("pk").get(pk=student.pk)
        plan = Plan(
            student=student, lesson=lesson, kind=kind, title=title, body=body, starts_on=starts_on,
            reason=reason[:300], thread=replaces.thread if replaces else uuid.uuid4(), version=_next_version(replaces),
            ticked=replaces.ticked if replaces else {},
        )
        if replaces is None and kind != Plan.Kind.LESSON:
            _end_others(entry, student, kind, starts_on)
        entry.create(plan)
    return plan


def tick_part(*, by: Coach, plan: Plan, key: str, done: bool) -> Plan:
    """Tick a part of the plan of a lesson off, with the moment, or take the tick back."""
    lesson = plan.lesson
    with journal(by=by, student=plan.student, lesson_code=lesson.code if lesson else None) as entry:
        plan = Plan.objects.select_for_update().get(pk=plan.pk)
        part = next(item for item in plan.body["items"] if item["key"] == key)
        entry.sentence = f"Plan, {part['title']}: {'done' if done else 'not done after all'}"
        rest = {name: moment for name, moment in plan.ticked.items() if name != key}
        if not (done and key in plan.ticked):  # sent twice: the first moment counts
            entry.update(plan, ticked={**rest, key: timezone.now().isoformat()} if done else rest)
    return plan


def end_plan(*, by: Coach, plan: Plan, day: date) -> None:
    """End a plan; it stays in the record."""
    with journal(by=by, student=plan.student, sentence=f"Plan ended: {plan.title}") as entry:
        for version in Plan.objects.filter(thread=plan.thread, ended_on__isnull=True, removed_at__isnull=True):
            entry.update(version, ended_on=day)


def take_back_version(*, by: Coach, plan: Plan) -> None:
    """Take the newest version out of view, so that the one before it is in use again."""
    with journal(by=by, student=plan.student, sentence=f"Taken back: {plan}") as entry:
        entry.remove(plan)


def add_event(*, by: Coach, student: Student, name: str, on_date: date) -> StudentEvent:
    """Store an event; the same one sent twice is stored once."""
    with journal(by=by, student=student, sentence=f"Event: {name}") as entry:
        Student.objects.select_for_update().only("pk").get(pk=student.pk)
        again = student.events.filter(name=name, on_date=on_date, removed_at__isnull=True).first()
        if again is not None:
            return again
        event = StudentEvent(student=student, name=name, on_date=on_date)
        entry.create(event)
    return event


def remove_event(*, by: Coach, event: StudentEvent) -> None:
    """Take an event out of view."""
    with journal(by=by, student=event.student, sentence=f"Event taken out: {event.name}") as entry:
        entry.remove(event)


def _next_version(plan: Plan | None) -> int:
    if plan is None:
        return 1
    newest = Plan.objects.filter(thread=plan.thread, removed_at__isnull=True).order_by("-version").first()
    return newest.version + 1 if newest else plan.version + 1


def _end_others(entry: Entry, student: Student, kind: str, day: date) -> None:
    for other in student.plans.filter(kind=kind, ended_on__isnull=True, removed_at__isnull=True):
        entry.update(other, ended_on=day)
