"""One student's page for the coach who teaches them, and the reduced one for an owner who does not."""

import uuid
from collections import defaultdict
from datetime import date, datetime, timedelta
from typing import Any

from django.utils import timezone

from academy.consents import Permission, consent_table, rules
from academy.models import HealthFlag, Student
from lessons.models import DrillAssignment, Finding, Lesson, Prescription
from lessons.queries.load import load_words
from metrics.units import System

from .batteries.due import due_of
from .goals.lines import goal_lines


def coach_page(*, student: Student, now: datetime, system: System = "yards") -> dict[str, Any]:
    """Return the whole page. Fifteen queries and those of the goals, however many visits there are."""
    lessons = list(student.lessons.order_by("-starts_at")[:12])
    assignments = list(student.assignments.filter(removed_at__isnull=True).order_by("-pk"))
    practice = list(student.practice.select_related("assignment").order_by("-practised_at")[:60])
    messages = list(student.messages.order_by("-sent_at")[:40])
    return {
        **shared(student=student, lessons=lessons, now=now, system=system),
        "visits": _visits(student, lessons),
        "findings": list(
            Finding.objects.filter(lesson__student=student, removed_at__isnull=True)
            .select_related("lesson").order_by("-lesson__starts_at", "-pk")[:8]
        ),
        "drills": _drills(assignments, practice, timezone.localdate(now)),
        "practice": practice[:10],
        "practised": _week(practice, now),
        "links": list(student.links.select_related("guardian")),
        "waiting": [one for one in messages if one.answered_at is None],
        "answered": [one for one in messages if one.answered_at is not None][:6],
        "open_health": sum(flag.stops_long_game for flag in HealthFlag.objects.filter(
            student=student, cleared_at__isnull=True)),
        "guardians": list(student.guardians.all()), "load": _load(student, practice, lessons, now),
    }


def owner_page(*, student: Student, now: datetime, system: System = "yards") -> dict[str, Any]:
    """Return what an owner sees of another coach's student: no notes, no health, no messages. Six queries and those
    of the goals."""
    lessons = list(student.lessons.order_by("-starts_at")[:12])
    return shared(student=student, lessons=lessons, now=now, system=system)


def shared(*, student: Student, lessons: list[Lesson], now: datetime, system: System) -> dict[str, Any]:
    """Return what both may see. Six queries and those of the goals."""
    done = [lesson for lesson in lessons if lesson.status == Lesson.Status.FINISHED]
    booked = [lesson for lesson in lessons if lesson.status == Lesson.Status.PLANNED and lesson.starts_at >= now]
    today = timezone.localdate(now)
    return {
        "student": student, "age": student.age_on(today),
        "goals": goal_lines(student=student, system=system, today=today),
        "due": due_of(student=student, today=today),
        "intents": list(student.intents.order_by("category")),
        "clubs": [club for club in student.clubs.all() if club.to_date is None or club.to_date >= today],
        "last": done[0] if done else None,
        "running": next((one for one in lessons if one.status == Lesson.Status.RUNNING), None),
        "booked": min(booked, key=lambda lesson: lesson.starts_at, default=None),
        "consents": _lacking(student, today), "begin_key": uuid.uuid4(),
    }


def _lacking(student: Student, today: date) -> list[Permission]:
    """Return the consents that are lacking; an adult's that was never asked for is no news. Three queries."""
    junior = student.is_junior(adult_age=rules().adult_age)
    return [
        one for one in consent_table(student=student, day=today)
        if not one.allowed and (junior or one.word != "not given")
    ]


def _visits(student: Student, lessons: list[Lesson]) -> list[dict[str, Any]]:
    """Return each visit with the change that was chosen. One query."""
    changes = dict(
        Prescription.objects.filter(lesson__in=lessons, removed_at__isnull=True).order_by("pk")
        .values_list("lesson_id", "change")
    )
    return [{"lesson": lesson, "change": changes.get(lesson.pk, "")} for lesson in lessons]


def _drills(assignments: list[DrillAssignment], practice: list, today: date) -> list[dict[str, Any]]:
    """Return each drill once, newest first, as it was given last, with how often it was practised in all its rows."""
    given: dict[str, list[DrillAssignment]] = defaultdict(list)
    for one in assignments:
        given[one.drill].append(one)
    lines = []
    for rows in given.values():
        keys = {row.pk for row in rows}
        lines.append({
            "drill": rows[0], "times": len(rows), "done": sum(entry.assignment_id in keys for entry in practice),
            "runs": rows[0].ends_on is None or rows[0].ends_on >= today,
        })
    return lines


def _load(student: Student, practice: list, lessons: list[Lesson], now: datetime) -> str:
    """Return the warning that the guardian reads too, in the coach's words. One query."""
    age = student.age_on(timezone.localdate(now))
    return load_words(
        junior_age=age if age is not None and age < rules().adult_age else None, now=now, coach_reads=True,
        practice=[{"practised_at": one.practised_at, "balls": one.balls, "minutes": one.minutes} for one in practice],
        lessons=[{"status": one.status, "starts_at": one.starts_at, "minutes": one.minutes} for one in lessons],
    )


def _week(practice: list, now: datetime) -> dict[str, int]:
    week = [entry for entry in practice if entry.practised_at >= now - timedelta(days=7)]
    return {"times": len(week), "minutes": sum(entry.minutes or 0 for entry in week)}
