"""A practice plan in use, made by the planner, for the tests of what its student reads."""

from datetime import date

from django.utils import timezone

from lessons.library import stored_library
from lessons.models import Plan
from lessons.queries.plans.stored import as_body
from lessons.services.plans import keep_plan
from metrics.plans.practice import practice_plan
from metrics.plans.types import Player


def plan_for(student, *, minutes: int = 60, starts_on: date | None = None, **values) -> Plan:
    """Keep a plan of four weeks for somebody with a range, a green and everything a drill may ask for."""
    day = starts_on or timezone.localdate()
    player = Player(**{
        "minutes_week": minutes, "places": ("range", "green", "home"), "kit": ("sticks", "tees", "tape", "mirror"),
        "age": student.age_on(day), **values})
    body = as_body(practice_plan(player, day=day, library=stored_library().drills))
    told = {"alerts": ["Sore: hip."], "made_from": {"mood": "bored"}, "branch": {"reason": "hushword"}}
    return keep_plan(by=student.coach, student=student, kind=Plan.Kind.PRACTICE, title=f"Practice, {minutes} minutes",
                     body={**body, **told}, starts_on=day)
