"""Proposals for the three longer plans, as bodies that can be stored: what is proposed, and what it was made from."""

from collections.abc import Callable
from datetime import datetime
from typing import Any

from academy.models import Student
from lessons.library import current_library
from metrics.plans.alerts import alerts_of
from metrics.plans.branch import branch_of
from metrics.plans.practice import practice_plan
from metrics.plans.season import TITLES, WHY, plan_season
from metrics.plans.series import plan_series
from metrics.plans.types import Player
from metrics.units import System

from .player import player_of
from .stored import as_body

NAMES = {"series": "Series", "practice": "Practice", "season": "Season"}


def propose(*, student: Student, kind: str, form: Any, now: datetime, system: System) -> dict[str, Any]:
    """Return the body of a proposal. About thirty queries."""
    values = form.cleaned_data
    player = player_of(student=student, now=now, system=system, **form.player_values())
    body = _MAKERS[kind](player, values, student)
    day = values["starts_on"]
    return {
        **body, "alerts": list(alerts_of(player, day=day)), "branch": as_body(branch_of(player, day=day)),
        "made_from": {"minutes_week": player.minutes_week, "places": list(player.places), "kit": list(player.kit),
                      "mood": values["mood"], **{key: values[key] for key in ("visits", "first_month", "last_month")
                                                 if key in values}},
    }


def title_of(kind: str, body: dict[str, Any]) -> str:
    """Return what a plan is called in lists."""
    if kind == "series":
        return f"Series of {len(body['steps'])} visits"
    if kind == "practice":
        return f"Practice, {body['minutes_week']} minutes a week"
    return f"Season, {len(body['weeks'])} weeks"


def _series(player: Player, values: dict[str, Any], student: Student) -> dict[str, Any]:
    return as_body(plan_series(player, start=values["starts_on"], visits=values["visits"]))


def _practice(player: Player, values: dict[str, Any], student: Student) -> dict[str, Any]:
    return as_body(practice_plan(player, day=values["starts_on"], library=current_library(student).drills))


def _season(player: Player, values: dict[str, Any], student: Student) -> dict[str, Any]:
    season = plan_season(
        start=values["starts_on"], first_month=values["first_month"], last_month=values["last_month"],
        events=player.events)
    phases = [{"title": TITLES[phase], "why": WHY[phase], "from": as_body(first), "to": as_body(last)}
              for phase, first, last in season.phases]
    events = [[event.day.isoformat(), event.name] for event in player.events]
    return {**as_body(season), "phases": phases, "events": events}


_MAKERS: dict[str, Callable[[Player, dict[str, Any], Student], dict[str, Any]]] = {
    "series": _series, "practice": _practice, "season": _season,
}
