"""On which days a student practises, and what their calendar is told.

A sequence counts what was handed out: it rises when a new file says something else of a sitting than the last one
did, whatever the cause (other days, another plan, pain that lets it rest, an undo).
"""

from datetime import date, datetime, time, timedelta
from typing import Any

from django.db import transaction
from django.utils import timezone

from academy.journal import journal
from academy.models import Coach, Student
from academy.models.base import Source
from lessons.ics import Event
from lessons.models import PracticeDays
from lessons.queries.plans.practice import Practice, Sitting, words_of

KEPT_DAYS = 14
"""How long what was told of a past sitting is remembered."""


def choose_days(*, student: Student, weekdays: list[int], at: time | None, by: Coach | None = None) -> PracticeDays:
    """Store the days; no day at all takes them back."""
    said = f"Practice days: {words_of(weekdays, at) or 'none'}"
    with journal(by=by, student=student, sentence=said if by else f"{said} (chosen on the private page)") as entry:
        Student.objects.select_for_update().only("pk").get(pk=student.pk)
        row = PracticeDays.objects.filter(student=student).first()
        if row is not None:
            entry.update(row, weekdays=sorted(weekdays), at=at)
            return row
        row = PracticeDays(student=student, weekdays=sorted(weekdays), at=at,
                           source=Source.TYPED if by else Source.STUDENT)
        entry.create(row)
    return row


@transaction.atomic
def calendar_events(*, student: Student, practice: Practice | None, now: datetime) -> list[Event]:
    """Return the sittings from today on as events, with those cancelled that were told and are no more.

    What is told is remembered, so that the next file keeps every uid and raises the sequence of what changed.
    """
    row = PracticeDays.objects.select_for_update().filter(student=student).first()
    if row is None:
        return []
    today = timezone.localdate(now)
    wanted = _wanted(row, practice, today)
    told = {uid: one for uid, one in row.told.items()
            if uid in wanted or _day(one) >= today - timedelta(days=KEPT_DAYS)}
    for uid, facts in wanted.items():
        told[uid] = _told(told.get(uid), {**facts, "cancelled": False}, now)
    for uid in told.keys() - wanted.keys():
        if _day(told[uid]) >= today:
            told[uid] = _told(told[uid], {**_facts(told[uid]), "cancelled": True}, now)
    if told != row.told:
        row.told = told
        row.save(update_fields=["told"])
    return [_event(uid, one) for uid, one in sorted(told.items()) if _day(one) >= today]


def _wanted(row: PracticeDays, practice: Practice | None, today: date) -> dict[str, dict[str, Any]]:
    """Return uid -> facts. Sittings of one day follow one another where there is an hour."""
    found: dict[str, dict[str, Any]] = {}
    used: dict[date, int] = {}
    for week in practice.weeks if practice else ():
        for sitting in week.sittings:
            if sitting.tasks and sitting.day is not None and sitting.day >= today:
                uid, before = f"{row.code}-{week.first:%Y%m%d}-{sitting.number}@holdfast", used.get(sitting.day, 0)
                found[uid] = _said(sitting, sitting.day, _at(row.at, before))
                used[sitting.day] = before + sitting.minutes
    return found


def _at(at: time | None, minutes_later: int) -> str:
    """Return the hour, "18:30", empty where none was chosen; what would begin after midnight begins before it."""
    if at is None:
        return ""
    whole = min(at.hour * 60 + at.minute + minutes_later, 24 * 60 - 1)
    return f"{whole // 60:02}:{whole % 60:02}"


def _said(sitting: Sitting, day: date, starts: str) -> dict[str, Any]:
    tasks = [f"{task['name']}, {task['minutes']} min{_balls(task)}" for task in sitting.tasks]
    lines = [sitting.begin, *tasks, sitting.end]
    return {
        "day": day.isoformat(), "at": starts, "minutes": sitting.minutes,
        "summary": f"Golf practice, {sitting.minutes} min: {sitting.title}",
        "description": "\n".join(line for line in lines if line),
    }


def _balls(task: dict[str, Any]) -> str:
    return f", {task['most_balls']} balls" if task.get("most_balls") else ""


def _told(before: dict[str, Any] | None, facts: dict[str, Any], now: datetime) -> dict[str, Any]:
    if before is not None and _facts(before) == facts:
        return before
    sequence = before["sequence"] + 1 if before else 0
    return {**facts, "sequence": sequence, "changed_at": now.isoformat()}


def _facts(one: dict[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in one.items() if key not in {"sequence", "changed_at"}}


def _day(one: dict[str, Any]) -> date:
    return date.fromisoformat(one["day"])


def _event(uid: str, one: dict[str, Any]) -> Event:
    starts: datetime | date = _day(one)
    if one["at"]:
        starts = timezone.make_aware(datetime.combine(_day(one), time.fromisoformat(one["at"])))
    return Event(
        uid=uid, starts=starts, minutes=one["minutes"], summary=one["summary"], description=one["description"],
        sequence=one["sequence"], cancelled=one["cancelled"], changed_at=datetime.fromisoformat(one["changed_at"]))
