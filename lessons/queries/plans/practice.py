"""The practice plan as its student reads it: on the days they chose, and only what health, consent and age leave open.

The body of a plan also holds what the coach reads (reasons, alerts, what it was made from); none of it is taken here.
"""

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import Any

from django.utils import timezone

from academy import consents
from academy.models import Consent, Student
from lessons.library import stored_library
from lessons.models import Plan, PracticeDays
from lessons.queries.age_bands import Band, band_of
from lessons.queries.pain_rule import PainRule, pain_rule
from lessons.queries.shown import only, read
from metrics.plans.days import days_of_week
from metrics.rules.records import Drill

TASK = ("part", "name", "minutes", "most_balls", "how")
CALM_BEGIN, CALM_END = "Ask yourself first: any pain?", "Stop while it is easy."


@dataclass(frozen=True, kw_only=True)
class Sitting:
    """One sitting; ``day`` is None where no days were chosen, no tasks where health lets it rest."""

    number: int
    day: date | None
    minutes: int
    begin: str
    end: str
    tasks: tuple[dict[str, Any], ...]

    @property
    def title(self) -> str:
        """What it is about, in a line of a calendar."""
        return ", ".join(dict.fromkeys(task["part"] for task in self.tasks))


@dataclass(frozen=True, kw_only=True)
class Week:
    """One week of the plan, from its first day on."""

    number: int
    first: date
    aids: str
    mixed_pct: int
    most_balls: int
    sittings: tuple[Sitting, ...]


@dataclass(frozen=True, kw_only=True)
class Practice:
    """A plan in use. ``now`` is the week of today, or the first of a plan that has not begun; None when it is over."""

    minutes_week: int
    weeks: tuple[Week, ...]
    now: Week | None
    days: PracticeDays | None

    @property
    def days_words(self) -> str:
        return words_of(self.days.weekdays, self.days.at) if self.days else ""


def practice_today(*, student: Student, now: datetime) -> Practice | None:
    """Return the plan as ``practice_of`` does, with what it needs to know of the student. About six queries."""
    day = timezone.localdate(now)
    adult_age = consents.rules().adult_age
    return practice_of(
        student=student, day=day, rule=pain_rule(student=student, day=day), adult_age=adult_age,
        band=band_of(age=student.age_on(day), adult_age=adult_age))


def practice_of(*, student: Student, day: date, rule: PainRule, band: Band, adult_age: int) -> Practice | None:
    """Return the practice plan in use; None without one, or for a junior without the consent to lessons.

    Two queries; two more for a junior, one more where pain or age closes anything.
    """
    rows = student.plans.filter(kind=Plan.Kind.PRACTICE, removed_at__isnull=True, ended_on__isnull=True)
    found = read("plan", rows.order_by("-pk")[:1])
    if not found or not _may_be_taught(student, day, adult_age):
        return None
    body, starts_on = found[0]["body"], found[0]["starts_on"]
    days = PracticeDays.objects.filter(student=student).first()
    chosen = days.weekdays if days else ()
    drills = stored_library().drills if rule.long_game_off or rule.areas else {}
    weeks = tuple(
        _week(row, starts_on + timedelta(weeks=place), chosen, rule, band, drills)
        for place, row in enumerate(body["weeks"]))
    return Practice(minutes_week=body["minutes_week"], weeks=weeks, now=_week_now(weeks, day), days=days)


def words_of(weekdays: list[int], at: time | None) -> str:
    """Return chosen days in words, "Monday and Thursday, at 18:00"; empty where none are.

    >>> words_of([0, 3], time(18))
    'Monday and Thursday, at 18:00'
    """
    names = [f"{date(2024, 1, 1) + timedelta(days=day):%A}" for day in sorted(weekdays)]  # 1 January 2024: a Monday
    said = " and ".join(part for part in (", ".join(names[:-1]), *names[-1:]) if part)
    return f"{said}, at {at:%H:%M}" if said and at else said


def _may_be_taught(student: Student, day: date, adult_age: int) -> bool:
    if not student.is_junior(adult_age=adult_age):
        return True
    return consents.consent_allows(student=student, item=Consent.Item.LESSONS, day=day).allowed


def _week_now(weeks: tuple[Week, ...], day: date) -> Week | None:
    if not weeks or day >= weeks[-1].first + timedelta(weeks=1):
        return None
    return next((week for week in reversed(weeks) if week.first <= day), weeks[0])


def _week(row: dict[str, Any], first: date, chosen: Collection[int], rule: PainRule, band: Band,
          drills: dict[str, Drill]) -> Week:
    days = days_of_week(sittings=len(row["sessions"]), first=first, weekdays=chosen)
    sittings = tuple(
        _sitting(number, session, days[number - 1] if days else None, rule, band, drills)
        for number, session in enumerate(row["sessions"], start=1))
    aids = row["aids"] if band.numbers and not rule.long_game_off else ""
    return Week(number=row["number"], first=first, aids=aids,
                mixed_pct=row["mixed_pct"], most_balls=row["most_balls"], sittings=sittings)


def _sitting(number: int, session: dict[str, Any], day: date | None, rule: PainRule, band: Band,
             drills: dict[str, Drill]) -> Sitting:
    """Take the tasks that are open; where full swings are off, also the words that speak of balls."""
    open_ = [task for task in session["tasks"] if _is_open(task, rule, drills)]
    calm = rule.long_game_off
    return Sitting(
        number=number, day=day, minutes=sum(task["minutes"] for task in open_),
        begin=CALM_BEGIN if calm else session["begin"], end=CALM_END if calm else session["end"],
        tasks=tuple(_task(task, band) for task in open_))


def _is_open(task: dict[str, Any], rule: PainRule, drills: dict[str, Drill]) -> bool:
    if rule.all_off:
        return False
    if task["drill"]:
        return not (rule.long_game_off or rule.areas) or rule.allows(drills.get(task["drill"]))
    return task.get("gentle", False) or not rule.long_game_off


def _task(task: dict[str, Any], band: Band) -> dict[str, Any]:
    how = task["how"] if band.may_read(task["how"]) else ""
    return only(TASK, {**task, "how": how})
