"""Storing what was said at the start of a lesson, and the conditions of the hour."""

import uuid
from typing import Any

from django.utils import timezone

from academy.journal import journal
from academy.models import Coach, HealthFlag, Venue
from lessons.models import Lesson

from .lessons import change_lesson


def answer(*, by: Coach, lesson: Lesson, **values: Any) -> Lesson:
    """Store answers of the greeting, such as ``warmed_up=True``."""
    asked = ", ".join(_WORDS[name] for name in values)
    return change_lesson(by=by, lesson=lesson, sentence=f"Asked: {asked}", **values)


def note_pain(
    *, by: Coach, lesson: Lesson, key: uuid.UUID, area: str, severity: int, is_new: bool, red_flag: bool
) -> HealthFlag:
    """Store what the student said about pain, once for each key. The history carries no health word."""
    flag = HealthFlag.objects.filter(code=key).first()
    if flag is not None and flag.student_id == lesson.student_id:
        return flag
    if flag is not None:
        key = uuid.uuid4()  # a word about pain is never refused because of a form's key
    flag = HealthFlag(
        code=key, student=lesson.student, area=area, severity=severity, is_new=is_new, red_flag=red_flag,
        reported_at=timezone.now(),
    )
    with journal(by=by, student=lesson.student, lesson_code=lesson.code, sentence="Asked: how the body is") as entry:
        entry.create(flag)
        entry.update(lesson, pain_asked=True)
    return flag


def set_header(
    *, by: Coach, lesson: Lesson, new_venue: str = "", place: dict[str, Any] | None = None, **values: Any
) -> Lesson:
    """Store the conditions of the hour; a place that is not known yet is added, and what was said of it kept."""
    with journal(
        by=by, student=lesson.student, lesson_code=lesson.code, sentence="Conditions of the lesson noted"
    ) as entry:
        if new_venue:
            venue = Venue.objects.filter(name__iexact=new_venue).first()
            if venue is None:
                venue = Venue(name=new_venue)
                entry.create(venue)
            values["venue"] = venue
        if place and values.get("venue"):
            entry.update(values["venue"], **place)
        entry.update(lesson, **values)
    return lesson


_WORDS = {
    "warmed_up": "warm-up", "practised": "practice", "played": "what was played", "pain_asked": "how the body is",
    "second_adult": "second adult",
}
