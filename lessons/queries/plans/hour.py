"""The plan of one lesson: proposed, stored, shown beside the running order, and held against what was done."""

from collections import Counter
from datetime import datetime, timedelta
from typing import Any

from django.utils import timezone

from lessons.models import Lesson, Plan
from metrics.plans.lesson import LONGEST, SHORTEST, plan_lesson
from metrics.units import System

from .pages import made_from
from .player import player_of
from .stored import as_body, in_use, lesson_plan, series_of

PURPOSES = {"first_ten": "first_ten", "with_aids": "with_aid", "without": "no_aid", "transfer": "transfer"}
"""Part of a plan -> the purpose of the block in which its balls are."""


def propose_hour(*, lesson: Lesson, minutes: int | None, now: datetime, system: System, mood: str = "",
                 ) -> dict[str, Any]:
    """Return the body of a proposal for a lesson; a series in use says which visit it is. About forty queries."""
    student = lesson.student
    player = player_of(student=student, now=now, system=system, mood=mood, **made_from(student))
    step = _step(lesson)
    wanted = min(max(minutes or lesson.minutes, SHORTEST), LONGEST)
    plan = plan_lesson(player, day=timezone.localdate(lesson.starts_at), minutes=wanted, step=step.get("key", ""))
    body = as_body(plan)
    if step:
        body |= {"series": step["series"], "step": step["number"], "step_title": step["title"]}
    return body


def _step(lesson: Lesson) -> dict[str, Any]:
    """Return the visit of the series in use that comes next, with the series' thread. Two queries."""
    series = in_use(student=lesson.student, kind=Plan.Kind.SERIES)
    coming = next((one for one in series_of(series).steps if not one.done), None) if series else None
    if coming is None:
        return {}
    return {"series": str(series.thread), "number": coming.number, "title": coming.title, "key": coming.key}


def strip_of(lesson: Lesson) -> dict[str, Any] | None:
    """Return the plan as it stands above the running order, with clock times once the lesson runs. One query."""
    plan = lesson_plan(lesson)
    if plan is None:
        return None
    begin = lesson.started_at if lesson.status == Lesson.Status.RUNNING else None
    at, rows = 0, []
    for item in plan.body["items"]:
        rows.append({**item, "at": begin + timedelta(minutes=at) if begin else None})
        at += item["minutes"]
    nudge = plan.body.get("nudge_at")
    return {"plan": plan, "items": rows, "minutes": at,
            "nudge_at": begin + timedelta(minutes=nudge) if begin and nudge is not None else None}


def done_of(*, lesson: Lesson, plan: Plan) -> list[dict[str, Any]]:
    """Return each planned part with what the record shows of it: the stop, and its balls. Two queries."""
    blocks = list(lesson.blocks.filter(removed_at__isnull=True).order_by("position"))
    balls = Counter()
    for block in blocks:
        balls["transfer" if block.is_mixed else block.purpose] += block.summary.get("balls", 0)
    tests = lesson.skill_tests.filter(removed_at__isnull=True, balls__isnull=False).distinct().count()
    rows = []
    for item in plan.body["items"]:
        hit = balls[PURPOSES[item["key"]]] if item["key"] in PURPOSES else None
        stop = item["stop"] in lesson.done_stops
        ran = tests if item["key"] in {"test", "putting", "short_game"} else None
        rows.append({**item, "balls": hit, "stop_done": stop, "tests": ran, "done": bool(hit or ran or (
            stop and hit is None and ran is None))})
    return rows
