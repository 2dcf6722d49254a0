"""The lesson sheet on its way out: as plain text, who may get it, and what was sent before."""

from dataclasses import dataclass
from typing import Any
from uuid import UUID

from django.utils import timezone
from django.utils.formats import date_format

from academy.consents import Permission, consent_allows, rules
from academy.models import Consent, Guardian, Student
from lessons.models import FollowUp, Lesson

from .note import note_page
from .plans.practice import Practice


@dataclass(frozen=True, kw_only=True)
class Receiver:
    """Somebody who gets the sheet by mail. ``copy`` marks a child's own address beside the guardian's."""

    name: str
    address: str
    copy: bool = False
    guardian: UUID | None = None


@dataclass(frozen=True, kw_only=True)
class WayOut:
    """Who would get the sheet today, and the sentence that says why nobody may."""

    receivers: tuple[Receiver, ...]
    guardians: tuple[Guardian, ...]
    child: Receiver | None
    junior: bool
    permission: Permission
    problem: str

    @property
    def open(self) -> bool:
        return not self.problem


def way_out(*, student: Student) -> WayOut:
    """Return who gets messages about a student today. Four queries at most.

    A junior's go to every guardian with an address, never to the child alone; an adult's to the student. Nothing
    goes out where messages are not allowed.
    """
    permission = consent_allows(student=student, item=Consent.Item.MESSAGING, day=timezone.localdate())
    junior = student.is_junior(adult_age=rules().adult_age)
    guardians = tuple(student.guardians.all()) if junior else ()
    if junior:
        receivers = tuple(
            Receiver(name=one.name, address=one.email, guardian=one.code) for one in guardians if one.email)
        missing = f"{student.first_name} is a junior, and no guardian with an e-mail address is noted."
    else:
        receivers = (Receiver(name=student.name, address=student.email),) if student.email else ()
        missing = f"No e-mail address of {student.first_name} is noted."
    child = Receiver(name=student.name, address=student.email, copy=True) if junior and student.email else None
    problem = permission.reason if not permission.allowed else "" if receivers else missing
    return WayOut(
        receivers=receivers, guardians=guardians, child=child, junior=junior, permission=permission, problem=problem)


def sheet_page(lesson: Lesson) -> dict[str, Any]:
    """Return the sheet with its ways out. About sixteen queries."""
    page = note_page(lesson)
    return {
        **page, "plain": sheet_text(page), "way": way_out(student=lesson.student),
        "sent": list(FollowUp.objects.filter(lesson=lesson).exclude(channel=FollowUp.Channel.LINK)),
    }


def sheet_text(page: dict[str, Any]) -> str:
    """Return the sheet as plain text, for mail and for copying: the same parts in the same order. No query."""
    lesson, change = page["lesson"], page["change"]
    parts = [f"{lesson.student.name}, {_day(timezone.localdate(lesson.starts_at))}, with {lesson.coach}"]
    if change:
        said = [f"“{change.cue}”"] if change.cue else []
        said.append(change.change)
        said += [f"Gone too far when: {change.stop_sign}"] if change.stop_sign else []
        parts.append(_part("The one thing", *said))
    if page["reason"]:
        parts.append(_part("Why", page["reason"]))
    parts.append(_part("What we did", page["text"]))
    parts += [_drill(drill) for drill in page["drills"]]
    if page["practice"]:
        parts.append(_part("Practice", *_sittings(page["practice"])))
    parts.append(_part("Next visit", _next(lesson)))
    return "\n\n".join(parts)


def _part(title: str, *lines: str) -> str:
    return "\n".join([title.upper(), *(line for line in lines if line)])


def _drill(drill: dict[str, Any]) -> str:
    week = f"about {drill['minutes_week']} minutes a week" if drill["minutes_week"] else ""
    dose = ", ".join(part for part in (drill["dose"], week) if part)
    steps = [f"{number}. {step}" for number, step in enumerate(drill.get("steps", []), start=1)]
    passed = f"Passed with: {drill['pass_mark']}" if drill.get("pass_mark") else ""
    care = f"Care: {drill['caution']}" if drill.get("caution") else ""
    return _part("Drill", drill["name"], dose, *steps, passed, care)


def _sittings(practice: Practice) -> list[str]:
    """Return the plan's week in use, a line a sitting; what rests is left out."""
    week = practice.now
    lines = [f"{practice.minutes_week} minutes a week, from {_day(week.first)} on"] if week else []
    for sitting in week.sittings if week else ():
        tasks = "; ".join(f"{task['part']}: {task['name']}" for task in sitting.tasks)
        when = _day(sitting.day) if sitting.day else f"Sitting {sitting.number}"
        lines += [f"{when}, {sitting.minutes} min: {tasks}"] if tasks else []
    return lines


def _next(lesson: Lesson) -> str:
    when = _day(lesson.next_date) if lesson.next_date else "No date yet"
    return f"{when}. It begins with: {lesson.next_measure}." if lesson.next_measure else f"{when}."


def _day(day: Any) -> str:
    return date_format(day, "l j F Y")
