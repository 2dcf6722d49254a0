"""How much golf a week holds, and a word of warning where it is more than fits an age or far more than before."""

from collections.abc import Iterable, Mapping
from datetime import datetime, timedelta
from typing import Any

from lessons.models import Lesson

from . import practice_dose

TAUGHT = (Lesson.Status.RUNNING, Lesson.Status.FINISHED)
WEEKS = 5


def load_words(
    *, junior_age: int | None, practice: Iterable[Mapping[str, Any]], lessons: Iterable[Mapping[str, Any]],
    now: datetime, coach_reads: bool = False,
) -> str:
    """Return a warning about too much practice in the last seven days, or an empty text. No query.

    ``practice`` are rows with practised_at, balls and minutes, ``lessons`` rows with status, starts_at and minutes.
    """
    weeks = [0] * WEEKS
    minutes = 0
    for entry in practice:
        week = (now - entry["practised_at"]).days // 7
        if 0 <= week < WEEKS:
            weeks[week] += entry["balls"] or 0
            minutes += (entry["minutes"] or 0) if week == 0 else 0
    minutes += sum(
        lesson["minutes"] for lesson in lessons
        if lesson["status"] in TAUGHT and timedelta(0) <= now - lesson["starts_at"] < timedelta(days=7)
    )
    if practice_dose.too_many_hours(age=junior_age, week_minutes=minutes):
        ask = "ask about any ache" if coach_reads else "tell the coach about any ache"
        return (f"{minutes // 60} hours of golf in seven days is more than the {junior_age} that fit this age. "
                f"Plan at least one day off, and {ask}.")
    if practice_dose.is_steep(week_balls=weeks[0], earlier_weeks=weeks[1:]):
        calm = "A day off now keeps the swing going." if coach_reads else "A day off now keeps you swinging."
        return f"This week has many more balls than the weeks before. {calm}"
    return ""
