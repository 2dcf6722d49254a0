"""Hours of the diary for tests: by the clock of the academy, Europe/Dublin."""

import uuid
from datetime import datetime
from zoneinfo import ZoneInfo

from lessons.models import Lesson
from lessons.services.diary import book_weekly

DUBLIN = ZoneInfo("Europe/Dublin")


def at(text: str) -> datetime:
    """``at("2030-05-01 10:00")``"""
    return datetime.fromisoformat(text).replace(tzinfo=DUBLIN)


def booked(student, text: str, **values) -> Lesson:
    done = book_weekly(
        by=student.coach, student=student, key=uuid.uuid4(), starts_at=at(text),
        **{"coach": student.coach, "minutes": 60, **values},
    )
    return done.lessons[0]
