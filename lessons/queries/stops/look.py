"""Look: the setup in numbers, before and after."""

from typing import Any

from lessons.models import Lesson


def context(lesson: Lesson) -> dict[str, Any]:
    """Return the setup numbers of the lesson. One query."""
    return {"observations": list(lesson.observations.filter(removed_at__isnull=True))}


def summary(data: dict[str, Any]) -> tuple[str, str]:
    count = len(data["observations"])
    return (f"{count} setup numbers", "begun") if count else ("no setup number yet", "")
