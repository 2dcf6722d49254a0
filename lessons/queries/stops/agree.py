"""Agree: drills and dose, the next date and what it begins with, the note, the private link."""

import uuid
from datetime import date, timedelta
from statistics import median
from typing import Any

from django.utils import timezone

from lessons.care import reads_health
from lessons.models import Lesson
from lessons.queries.drills import chooser
from lessons.queries.lesson import house_of
from lessons.queries.note import words_of
from lessons.queries.setup import work_block

USUAL_GAP_DAYS = 14
CHOICES_DAYS = (7, 14, 21, 28)


def context(lesson: Lesson) -> dict[str, Any]:
    """Return what was agreed, and what is proposed for the rest. About twenty queries."""
    house = house_of(lesson)
    return {
        **chooser(lesson), "finished": lesson.status == Lesson.Status.FINISHED, "key": uuid.uuid4(),
        "dates": dates_for(lesson), "measure": lesson.next_measure or first_measure(lesson),
        "note": lesson.student_note or words_of(lesson),
        "guardians": list(lesson.student.guardians.all()),
        "junior": lesson.student.is_junior(adult_age=house.adult_age if house else 18),
        "sent": lesson.followups.first(), "gives_link": reads_health(lesson),
    }


def gist(lesson: Lesson) -> dict[str, Any]:
    """Return what the line needs. One query."""
    return {
        "lesson": lesson, "given": list(lesson.assignments.filter(removed_at__isnull=True)),
        "finished": lesson.status == Lesson.Status.FINISHED,
    }


def dates_for(lesson: Lesson) -> list[dict[str, Any]]:
    """Return the dates to tap: whole weeks from the lesson, the student's usual gap chosen. One query."""
    day = timezone.localdate(lesson.starts_at)
    usual = usual_gap(lesson)
    chosen = min(CHOICES_DAYS, key=lambda days: abs(days - usual))
    rows = [{"day": day + timedelta(days=days), "weeks": days // 7, "chosen": days == chosen} for days in CHOICES_DAYS]
    if lesson.next_date:
        rows = [{**row, "chosen": row["day"] == lesson.next_date} for row in rows]
        if not any(row["chosen"] for row in rows):
            rows.append({"day": lesson.next_date, "weeks": None, "chosen": True})
    return rows


def usual_gap(lesson: Lesson) -> float:
    """Return the days that usually lie between two visits of this student. One query."""
    rows = Lesson.objects.filter(student=lesson.student, status=Lesson.Status.FINISHED).order_by("starts_at")
    days: list[date] = [timezone.localdate(moment) for moment in rows.values_list("starts_at", flat=True)]
    gaps = [(later - earlier).days for earlier, later in zip(days, days[1:], strict=False) if later > earlier]
    return median(gaps) if gaps else USUAL_GAP_DAYS


def first_measure(lesson: Lesson) -> str:
    """Return what the next visit begins with: ten balls of the club in work, before any advice."""
    block = work_block(lesson)
    if block is None:
        return ""
    wish = "" if block.intent == "straight" else f", {block.intent} wanted"
    return f"Ten balls with the {block.club_name.lower()}{wish}, no aids, before any advice"


def summary(data: dict[str, Any]) -> tuple[str, str]:
    lesson, count = data["lesson"], len(data["given"])
    drills = f"{count} drill{'' if count == 1 else 's'}"
    if data["finished"]:
        return f"finished; {drills}, next visit {_day(lesson.next_date)}", "done"
    return (f"{drills}, not finished", "begun") if count else ("nothing agreed yet", "")


def _day(day: date | None) -> str:
    return f"{day.day} {day:%B}" if day else "not dated"
