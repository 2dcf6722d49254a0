"""The coach's pages of plans: where it stands, one stored plan with its versions, and what results propose."""

from datetime import date, datetime, timedelta
from typing import Any

from django.utils import timezone

from academy.models import Student
from lessons.models import Lesson, Plan, PracticeDays
from metrics.plans.alerts import alerts_of
from metrics.plans.branch import branch_of
from metrics.plans.days import days_of_week
from metrics.plans.kit import KIT, PLACES
from metrics.plans.series import Bend, bend_series
from metrics.units import System

from .player import player_of
from .practice import words_of
from .stored import series_of, versions_of


def plans_page(*, student: Student, now: datetime, system: System) -> dict[str, Any]:
    """Return the branch of today, the plans in use and the events. About eighteen queries."""
    stored = list(student.plans.filter(removed_at__isnull=True).exclude(kind=Plan.Kind.LESSON).order_by("-pk"))
    player = player_of(student=student, now=now, system=system, **_said(stored[0] if stored else None))
    day = timezone.localdate(now)
    used = [plan for plan in reversed(stored) if plan.ended_on is None]
    newest = {plan.kind: plan for plan in used}
    plans = [(kind, newest.get(kind)) for kind in ("series", "practice", "season")]
    return {
        "student": student, "branch": branch_of(player, day=day), "alerts": alerts_of(player, day=day),
        "results": player.results, "needs": player.needs, "plans": plans,
        "events": list(student.events.filter(removed_at__isnull=True, on_date__gte=day)),
        "lessons": _lessons(student, now),
        "ended": [plan for plan in stored if plan.ended_on is not None][:10],
    }


def made_from(student: Student) -> dict[str, Any]:
    """Return places, kit and minutes as they were said last. One query."""
    return _said(
        student.plans.filter(removed_at__isnull=True).exclude(kind=Plan.Kind.LESSON).order_by("-pk").first())


def _said(last: Plan | None) -> dict[str, Any]:
    said = last.body.get("made_from", {}) if last else {}
    return {
        "places": tuple(place for place in said.get("places", ()) if place in PLACES),
        "kit": tuple(key for key in said.get("kit", ()) if key in KIT), "minutes_week": said.get("minutes_week"),
    }


def plan_page(*, plan: Plan, now: datetime, system: System, mood: str = "") -> dict[str, Any]:
    """Return one stored plan: its body, its versions, and for a series in use what the results propose."""
    days = {"weeks": [_dated(week) for week in plan.body.get("weeks", ())]} if plan.kind == "season" else {}
    found = {
        "plan": plan, "student": plan.student, "versions": versions_of(plan), "body": {**plan.body, **days},
        "places": [PLACES[key] for key in plan.body.get("made_from", {}).get("places", ()) if key in PLACES],
        "kit": [KIT[key] for key in plan.body.get("made_from", {}).get("kit", ()) if key in KIT],
    }
    if plan.kind == Plan.Kind.SERIES:
        series = series_of(plan)
        found |= {"series": series, "bend": bend_of(plan, now=now, system=system, mood=mood),
                  "lessons": _lessons(plan.student, now), "planned": _planned(plan)}
    if plan.kind == Plan.Kind.PRACTICE:
        found |= _practice(plan)
    if plan.kind == Plan.Kind.SEASON:
        found["phases"] = [{**row, "from": date.fromisoformat(row["from"]), "to": date.fromisoformat(row["to"])}
                           for row in plan.body["phases"]]
        found |= _changed_events(plan, timezone.localdate(now))
    return found


def _changed_events(plan: Plan, day: date) -> dict[str, Any]:
    """Return the events to come that a season does not know, and those it knows that are no more. One query."""
    if "events" not in plan.body or plan.ended_on is not None:
        return {}
    known = {(when, name) for when, name in plan.body["events"] if when >= day.isoformat()}
    rows = plan.student.events.filter(removed_at__isnull=True, on_date__gte=day)
    there = {(row.on_date.isoformat(), row.name) for row in rows}
    return {"new_events": [name for _, name in sorted(there - known)],
            "gone_events": [name for _, name in sorted(known - there)]}


def bend_of(plan: Plan, *, now: datetime, system: System, mood: str = "") -> Bend | None:
    """Return what the results propose for a series in use; None where nothing is to come or it has ended."""
    newest = versions_of(plan)[:1]
    if plan.ended_on is not None or not newest or newest[0].pk != plan.pk:
        return None
    player = player_of(student=plan.student, now=now, system=system, mood=mood, **made_from(plan.student))
    return bend_series(series_of(plan), player=player, day=timezone.localdate(now))


def _practice(plan: Plan) -> dict[str, Any]:
    """Return the weeks of a practice plan, with the day of each sitting where days were chosen. One query."""
    days = PracticeDays.objects.filter(student=plan.student_id).first()
    chosen = days.weekdays if days else []
    weeks = [_with_days(row, plan.starts_on + timedelta(weeks=place), chosen)
             for place, row in enumerate(plan.body["weeks"])]
    return {"body": {**plan.body, "weeks": weeks}, "days": days,
            "days_words": words_of(chosen, days.at) if days else ""}


def _with_days(week: dict[str, Any], first: date, chosen: list[int]) -> dict[str, Any]:
    sessions = week["sessions"]
    days = days_of_week(sittings=len(sessions), first=first, weekdays=chosen) or [None] * len(sessions)
    return {**week, "sessions": [{**one, "day": day} for one, day in zip(sessions, days, strict=True)]}


def _dated(week: dict[str, Any]) -> dict[str, Any]:
    return {**week, "monday": date.fromisoformat(week["monday"])}


def _lessons(student: Student, now: datetime) -> list[Lesson]:
    """Return the lessons that can still be planned: running or booked. One query."""
    rows = student.lessons.filter(status__in=[Lesson.Status.RUNNING, Lesson.Status.PLANNED])
    return list(rows.order_by("starts_at")[:6])


def _planned(plan: Plan) -> dict[int, Plan]:
    """Return the lesson plan made for each visit of a series. One query."""
    rows = Plan.objects.filter(
        kind=Plan.Kind.LESSON, removed_at__isnull=True, body__series=str(plan.thread), student=plan.student
    ).select_related("lesson").order_by("version")
    return {row.body["step"]: row for row in rows}
