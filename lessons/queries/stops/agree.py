"""Agree: drills, dose, next date, the student's page."""

from typing import Any

from lessons.models import Lesson


def context(lesson: Lesson) -> dict[str, Any]:
    """Return what was agreed. One query."""
    return {
        "drills": list(lesson.assignments.filter(removed_at__isnull=True)), "next_date": lesson.next_date,
        "finished": lesson.status == Lesson.Status.FINISHED,
    }


def summary(data: dict[str, Any]) -> tuple[str, str]:
    if data["finished"]:
        return "finished", "done"
    count = len(data["drills"])
    return (f"{count} drills, not finished", "begun") if count else ("nothing agreed yet", "")
