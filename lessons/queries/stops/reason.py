"""Reason: what the numbers point at."""

from typing import Any

from lessons.models import Lesson


def context(lesson: Lesson) -> dict[str, Any]:
    """Return the findings of the lesson. One query."""
    return {"findings": list(lesson.findings.filter(removed_at__isnull=True))}


def summary(data: dict[str, Any]) -> tuple[str, str]:
    findings = data["findings"]
    return (findings[0].title, "begun") if findings else ("no finding yet", "")
