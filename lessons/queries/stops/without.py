"""Without: the same without aids, and transfer."""

from typing import Any

from lessons.models import Lesson

from .balls import stop_context, stop_gist, stop_summary


def context(lesson: Lesson) -> dict[str, Any]:
    """Return the blocks of this stop and their readings. One query beyond the lesson's blocks."""
    return stop_context(lesson, purposes={"without"})


def gist(lesson: Lesson) -> dict[str, Any]:
    """Return the readings alone. No query beyond the lesson's blocks."""
    return stop_gist(lesson, purposes={"without"})


def summary(data: dict[str, Any]) -> tuple[str, str]:
    return stop_summary(data)
