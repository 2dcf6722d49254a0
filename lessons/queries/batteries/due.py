"""When a student's test battery is due, in one sentence."""

from dataclasses import dataclass
from datetime import date
from typing import Literal

from academy.models import Student
from lessons.models import Battery
from metrics.plans.battery import due_between


@dataclass(frozen=True, kw_only=True)
class Due:
    """``state``: never, running, early, due or late. ``battery``: the one that runs, else the last finished one."""

    state: Literal["never", "running", "early", "due", "late"]
    battery: Battery | None
    sentence: str

    @property
    def is_now(self) -> bool:
        return self.state in ("due", "late")


def due_of(*, student: Student, today: date) -> Due:
    """Return when the next battery is due. One query."""
    known = list(student.batteries.filter(removed_at__isnull=True))
    running = next((one for one in reversed(known) if one.finished_on is None), None)
    if running is not None:
        return Due(state="running", battery=running, sentence=f"Begun on {running.begun_on:%-d %B %Y}, not finished.")
    if not known:
        return Due(state="never", battery=None, sentence="None yet: the line that later ones are held against.")
    last = max(known, key=lambda one: one.finished_on)
    first_day, last_day = due_between(finished_on=last.finished_on)
    done = f"Last one {last.finished_on:%-d %B %Y}"
    if today < first_day:
        return Due(state="early", battery=last, sentence=f"{done}; due again from {first_day:%-d %B %Y}.")
    if today <= last_day:
        return Due(state="due", battery=last, sentence=f"{done}; due now, until {last_day:%-d %B %Y}.")
    return Due(state="late", battery=last, sentence=f"{done}; it was due by {last_day:%-d %B %Y}.")
