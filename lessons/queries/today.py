"""Today: the day's lessons with a brief for each, and what waits.

Eleven queries for the briefs, however many lessons and students there are.
"""

from collections import defaultdict
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta
from typing import Any

from django.db.models import BooleanField, ExpressionWrapper, Q
from django.utils import timezone

from academy.models import Coach, Goal, HealthFlag, Student
from lessons.models import (
    Block,
    DrillAssignment,
    Finding,
    GroupClass,
    Lesson,
    PracticeEntry,
    Prescription,
    StudentMessage,
)

from .followup_facts import waiting_after

MOST_AFTER = 8
SHOWN = (Lesson.Status.PLANNED, Lesson.Status.RUNNING, Lesson.Status.FINISHED)


@dataclass(frozen=True, kw_only=True)
class Brief:
    """What the coach needs in the ten minutes before a lesson."""

    lesson: Lesson
    last: Lesson | None = None
    finding: Finding | None = None
    change: Prescription | None = None
    drills: list[DrillAssignment] = field(default_factory=list)
    practised: list[PracticeEntry] = field(default_factory=list)
    health: list[HealthFlag] = field(default_factory=list)
    goal: str = ""
    measure: str = ""
    balls: int = 0

    @property
    def minutes_practised(self) -> int:
        return sum(entry.minutes or 0 for entry in self.practised)

    @property
    def stops_long_game(self) -> bool:
        return any(flag.stops_long_game for flag in self.health)


def today(*, coach: Coach, day: date | None = None) -> dict[str, Any]:
    """Return the briefs of the day in order, lessons left open on earlier days, and unanswered messages."""
    day = day or timezone.localdate()
    begin = timezone.make_aware(datetime.combine(day, time()))
    end = timezone.make_aware(datetime.combine(day + timedelta(days=1), time()))
    own = Lesson.objects.filter(Q(student__coach=coach) | Q(coach=coach)).select_related("student", "coach", "venue")
    own = own.exclude(booking__group__isnull=False)  # a class stands once, not student by student
    lessons = list(own.filter(starts_at__gte=begin, starts_at__lt=end, status__in=SHOWN).order_by("starts_at"))
    waiting = StudentMessage.objects.filter(student__coach=coach, answered_at__isnull=True).select_related("student")
    return {
        "classes": list(GroupClass.objects.filter(
            coach=coach, starts_at__gte=begin, starts_at__lt=end, status=GroupClass.Status.PLANNED)),
        "day": day, "briefs": briefs(lessons=lessons, coach=coach),
        "left_open": list(own.filter(status=Lesson.Status.RUNNING, starts_at__lt=begin).order_by("starts_at")[:20]),
        "messages_waiting": list(waiting[:20]),
        "after": waiting_after(coach=coach, now=timezone.now())[:MOST_AFTER],
        "coming": list(own.filter(starts_at__gte=end, status=Lesson.Status.PLANNED).order_by("starts_at")[:8]),
    }


def briefs(*, lessons: list[Lesson], coach: Coach) -> list[Brief]:
    """Return a brief for each lesson. Health only for students this coach is assigned to."""
    students = {lesson.student_id for lesson in lessons}
    before = min((lesson.starts_at for lesson in lessons), default=timezone.now())
    last = _last_visits(students, before=before)
    visits = [visit.pk for visit in last.values()]
    findings = _findings(students, before=before)
    changes = _newest(
        Prescription.objects.filter(lesson__student__in=students, removed_at__isnull=True).select_related("lesson")
    )
    drills = _grouped(
        DrillAssignment.objects.filter(student__in=students, removed_at__isnull=True, lesson__in=visits), "student_id"
    )
    practice = _grouped(_since_last(students, last), "student_id")
    health = _grouped(
        HealthFlag.objects.filter(student__in=students, student__coach=coach, cleared_at__isnull=True), "student_id"
    )
    goals = _grouped(Goal.objects.filter(student__in=students, ended_on__isnull=True), "student_id")
    balls = _balls([lesson.pk for lesson in lessons])
    return [
        Brief(
            lesson=lesson, last=last.get(lesson.student_id), finding=findings.get(lesson.student_id),
            change=changes.get(lesson.student_id), drills=drills[lesson.student_id],
            practised=practice[lesson.student_id], health=health[lesson.student_id],
            goal=_goal(lesson, goals[lesson.student_id]), balls=balls.get(lesson.pk, 0),
            measure=lesson.first_measure or getattr(last.get(lesson.student_id), "next_measure", ""),
        )
        for lesson in lessons
    ]


def students_to_book(coach: Coach) -> list[Student]:
    """Return the coach's own students for the booking list. One query."""
    return list(Student.objects.filter(coach=coach).here().only("code", "name"))


def _goal(lesson: Lesson, goals: list[Goal]) -> str:
    """Prefer a process goal: the student can do something about it today."""
    process = [goal for goal in goals if goal.kind == Goal.Kind.PROCESS]
    return (process or goals)[0].text if goals else lesson.goal


def _last_visits(students: set[int], *, before: datetime) -> dict[int, Lesson]:
    rows = Lesson.objects.filter(student__in=students, status=Lesson.Status.FINISHED, starts_at__lt=before)
    return {lesson.student_id: lesson for lesson in rows.order_by("starts_at")}


def _findings(students: set[int], *, before: datetime) -> dict[int, Finding]:
    """Return what was found last before the day; of one visit, what the coach confirmed comes first."""
    rows = Finding.objects.filter(
        lesson__student__in=students, lesson__starts_at__lt=before, removed_at__isnull=True
    ).exclude(decision=Finding.Decision.OVERRULED).exclude(state=Finding.State.SILENT).select_related("lesson")
    confirmed = ExpressionWrapper(Q(decision=Finding.Decision.CONFIRMED), BooleanField())
    rows = rows.annotate(agreed=confirmed).order_by("lesson__starts_at", "agreed", "pk")
    return {row.lesson.student_id: row for row in rows}


def _newest(rows) -> dict[int, Any]:
    return {row.lesson.student_id: row for row in rows.order_by("lesson__starts_at", "pk")}


def _grouped(rows, name: str) -> dict[int, list]:
    groups: dict[int, list] = defaultdict(list)
    for row in rows:
        groups[getattr(row, name)].append(row)
    return groups


def _since_last(students: set[int], last: dict[int, Lesson]) -> list[PracticeEntry]:
    if not last:
        return []
    oldest = min(lesson.starts_at for lesson in last.values())
    rows = PracticeEntry.objects.filter(student__in=students, practised_at__gte=oldest)
    return [
        row for row in rows if row.student_id in last and row.practised_at > last[row.student_id].starts_at
    ]


def _balls(lessons: list[int]) -> dict[int, int]:
    """Count the balls of each lesson from its blocks' summaries."""
    found: dict[int, int] = defaultdict(int)
    for lesson, summary in Block.objects.filter(
        lesson__in=lessons, removed_at__isnull=True
    ).values_list("lesson_id", "summary"):
        found[lesson] += summary.get("balls", 0)
    return found
