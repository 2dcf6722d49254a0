"""Change: the one thing of the visit."""

from typing import Any

from lessons.models import Lesson


def context(lesson: Lesson) -> dict[str, Any]:
    """Return the change that was chosen. One query."""
    return {"prescription": lesson.prescriptions.filter(removed_at__isnull=True).last()}


def summary(data: dict[str, Any]) -> tuple[str, str]:
    chosen = data["prescription"]
    return (chosen.change, "done") if chosen else ("not chosen yet", "")
