"""Plans of the demo, as the planner proposes them from what is stored, and a coach took them."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from academy.models import Student
from lessons.models import Plan
from lessons.queries.plans.proposals import propose, title_of

from .cast import Part
from .rows import Rows

_KINDS = {"one_degree": ("season", "series"), "junior": ("practice",), "pain": ("practice",), "left_file": ("series",)}
_EVERY = 9
"""Of the others, every ninth has a series of visits ahead."""


@dataclass(frozen=True, kw_only=True)
class Asked:
    """What a coach fills in before the planner proposes."""

    cleaned_data: dict[str, Any]

    def player_values(self) -> dict[str, Any]:
        return {name: self.cleaned_data[name] for name in ("minutes_week", "places", "mood", "kit")}


def add_plans(*, rows: Rows, part: Part, student: Student, now: datetime) -> None:
    """Write the plans of a student whose lessons are stored already."""
    usual = ("series",) if part.number % _EVERY == 0 and student.status == Student.Status.ACTIVE else ()
    starts_on = now.date() - timedelta(days=3)
    for kind in _KINDS.get(part.special, usual):
        form = Asked(cleaned_data={
            "starts_on": starts_on, "visits": 6, "first_month": 3, "last_month": 10, "mood": "",
            "minutes_week": student.practice_minutes_week, "places": ("home", "range"), "kit": ("sticks",),
        })
        body = propose(student=student, kind=kind, form=form, now=now, system="yards")
        rows.add(Plan, at=now - timedelta(days=3), student=student, kind=kind, title=title_of(kind, body), body=body,
                 thread=rows.key(), starts_on=starts_on, created_by=student.coach)
