"""Greet: pain, warm-up, played, practised."""

from typing import Any

from lessons.models import Lesson


def context(lesson: Lesson) -> dict[str, Any]:
    """Return what was asked and what was answered. No query."""
    return {"missing": _missing(lesson)}


def summary(data: dict[str, Any]) -> tuple[str, str]:
    missing = data["missing"]
    if not missing:
        return "all four asked", "done"
    return f"to ask: {', '.join(missing)}", "begun" if len(missing) < 4 else ""


def _missing(lesson: Lesson) -> list[str]:
    asked = {
        "pain": lesson.pain_asked, "warm-up": lesson.warmed_up is not None, "played": bool(lesson.played),
        "practised": bool(lesson.practised),
    }
    return [name for name, known in asked.items() if not known]
