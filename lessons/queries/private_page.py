"""What a student reads on the private page: plain values only, fetched by the list in ``shown``.

Five queries, however many visits, balls and practices there are; about fifteen more where something was written
since, see ``private_record``. What hangs on the hour or on health is read anew each time.
"""

from datetime import datetime, timedelta
from typing import Any

from django.utils import timezone

from academy import consents, health
from academy.models import Academy, Student
from lessons.models import Lesson

from . import practice_dose
from .age_bands import Band, band_of
from .load import load_words
from .pain_rule import rule_of
from .plans.practice import practice_of
from .private_drills import drills_of
from .private_record import record_of
from .shown import listed, only, read
from .student_words import sentence


def private_page(*, student: Student, house: Academy, now: datetime) -> dict[str, Any]:
    """Return everything the page shows, as plain values."""
    today = timezone.localdate(now)
    who = listed("student", student)
    left_handed = who["hand"] == Student.Hand.LEFT
    by = consents.rules_of(house)
    age, adult_age = student.age_on(today), by.adult_age
    band = band_of(age=age, adult_age=adult_age)
    junior_age = age if age is not None and age < adult_age else None
    practice = read("practice", student.practice.order_by("-practised_at")[:200])
    units = who["units"] or house.units
    record = record_of(student=student, who=who, system=units, band=band, day=today, by=by)
    flags = health.open_flags(student=student)
    rule = rule_of(flags, age=age)
    drills = drills_of(student=student, practice=practice, today=today, rule=rule, band=band)
    return {
        "units": units, "holder": student.code, "student": _who(who, left_handed),
        "band": band, "junior": junior_age is not None,
        "thing": record.thing,
        "cards": health.advice_for(flags, academy=house),
        "stopped": rule.long_game_off, "all_off": rule.all_off,
        "progress": record.progress, "goals": record.goals,
        "picture": record.picture, "picture_words": record.picture_words,
        "first_ten": record.first_ten, "aids": record.aids,
        "drills": drills, "todays": next((drill for drill in drills if drill["open"]), None),
        "plan": practice_of(student=student, day=today, rule=rule, band=band, adult_age=adult_age),
        "dose": _dose(who, practice, now, band), "load": load_words(
            junior_age=junior_age, practice=practice, lessons=record.near, now=now),
        "practice": [_practice_line(entry) for entry in practice[:10]],
        "next": _next(record.near, record.last, now), "package": record.package,
        "pairs": record.pairs, "history": record.history, "said": record.said,
        "messaging": record.messaging, "advice_is_new": any(not flag.advice_seen for flag in flags),
    }


def practice_page(*, student: Student, house: Academy, code: Any, now: datetime) -> dict[str, Any] | None:
    """Return one running drill and whether it may be practised; None where it is not theirs. Four queries."""
    today = timezone.localdate(now)
    flags = health.open_flags(student=student)
    rule = rule_of(flags, age=student.age_on(today))
    practice = read("practice", student.practice.order_by("-practised_at")[:200])
    band = band_of(age=student.age_on(today), adult_age=house.adult_age)
    drills = drills_of(student=student, practice=practice, today=today, rule=rule, band=band)
    drill = next((drill for drill in drills if str(drill["code"]) == str(code)), None)
    if drill is None:
        return None
    return {
        "drill": drill, "cards": health.advice_for(flags, academy=house), "stopped": rule.long_game_off,
        "stop_card": health.STOP, "emergency_card": health.emergency(house), "stop_at": health.STOP_AT,
        "holder": student.code, "band": band,
    }


def _who(row: dict[str, Any], left_handed: bool) -> dict[str, Any]:
    return {
        "name": row["name"], "first_name": row["name"].split()[0], "left_handed": left_handed,
        "units": row["units"], "language": row["language"],
        "coach": f"{row['coach__first_name']} {row['coach__last_name']}".strip(),
    }


def _dose(
    who: dict[str, Any], practice: list[dict[str, Any]], now: datetime, band: Band
) -> practice_dose.Dose:
    week = [entry for entry in practice if entry["practised_at"] >= now - timedelta(days=7)]
    return practice_dose.todays_dose(
        week_minutes=who["practice_minutes_week"], done_times=len(week),
        done_minutes=sum(entry["minutes"] or 0 for entry in week), most_minutes=band.most_minutes,
    )


def _practice_line(entry: dict[str, Any]) -> dict[str, Any]:
    return only(("practised_at", "minutes", "balls", "hits", "note"), entry)


def _next(lessons: list[dict[str, Any]], last: dict[str, Any], now: datetime) -> dict[str, Any]:
    """Return the next date: a booked lesson first, else the day agreed at the last one."""
    booked = [row["starts_at"] for row in lessons if row["status"] == Lesson.Status.PLANNED and row["starts_at"] > now]
    agreed = last.get("next_date")
    return {
        "booked": min(booked, default=None), "measure": sentence(last.get("next_measure", "")),
        "agreed": agreed if agreed and agreed >= timezone.localdate(now) else None,
    }
