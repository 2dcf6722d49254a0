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
    """Return the plan as it stands above the running order: the part that is on, the next, and all of them.

    Clock times come once the lesson runs; the nudge is gone when the transfer is ticked. One query.
    """
    plan = lesson_plan(lesson)
    if plan is None:
        return None
    begin = lesson.started_at if lesson.status == Lesson.Status.RUNNING else None
    rows = _parts(plan, lesson, begin)
    open_ = [row for row in rows if not row["ticked"]]
    nudge = plan.body.get("nudge_at")
    waits = begin and nudge is not None and any(row["key"] == "transfer" for row in open_)
    return {"plan": plan, "items": rows, "now": open_[0] if open_ else None,
            "next": open_[1] if len(open_) > 1 else None, "done": len(rows) - len(open_),
            "nudge_at": begin + timedelta(minutes=nudge) if waits else None}


def _parts(plan: Plan, lesson: Lesson, begin: datetime | None) -> list[dict[str, Any]]:
    """Return the parts with their clock; one is ticked by itself, or with its stop of the running order."""
    at, rows = 0, []
    for item in plan.body["items"]:
        moment = plan.ticked.get(item["key"])
        rows.append({
            **item, "at": begin + timedelta(minutes=at) if begin else None,
            "until": begin + timedelta(minutes=at + item["minutes"]) if begin else None,
            "by_hand": moment is not None, "ticked": moment is not None or item["stop"] in lesson.done_stops,
            "ticked_at": datetime.fromisoformat(moment) if moment else None,
        })
        at += item["minutes"]
    return rows


def done_of(*, lesson: Lesson, plan: Plan) -> list[dict[str, Any]]:
    """Return each planned part with what the record shows of it: its tick, its stop, and its balls. Two queries."""
    balls: Counter[str] = Counter()
    for block in lesson.blocks.filter(removed_at__isnull=True):
        balls["transfer" if block.is_mixed else block.purpose] += block.summary.get("balls", 0)
    tests = lesson.skill_tests.filter(removed_at__isnull=True, balls__isnull=False).distinct().count()
    return [_done(row, balls, tests) for row in _parts(plan, lesson, lesson.started_at)]


def _done(row: dict[str, Any], balls: Counter[str], tests: int) -> dict[str, Any]:
    """A part that has balls or a test of its own is done by them or by its tick, not by its stop alone."""
    hit = balls[PURPOSES[row["key"]]] if row["key"] in PURPOSES else None
    ran = tests if row["key"] in {"test", "putting", "short_game"} else None
    measured = hit is not None or ran is not None
    return {**row, "balls": hit, "tests": ran,
            "done": bool(row["by_hand"] or hit or ran or (row["ticked"] and not measured))}


def last_reflection(lesson: Lesson) -> Lesson | None:
    """Return the newest earlier visit of which the coach wrote a line for themselves. One query."""
    rows = lesson.student.lessons.filter(starts_at__lt=lesson.starts_at, coach_id=lesson.coach_id)
    wrote = rows.exclude(reflection_good="", reflection_other="")
    return wrote.order_by("-starts_at").first()
