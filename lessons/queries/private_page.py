"""What a student reads on the private page: plain values only, fetched by the list in ``shown``.

About twenty queries, however many visits, balls and practices there are.
"""

from datetime import datetime, timedelta
from typing import Any

from django.utils import timezone

from academy import consents, health
from academy.models import Academy, Consent, Student
from lessons.models import Block, Lesson, Prescription, StudentMessage
from lessons.summaries import SUMMARY_VERSION, refresh

from . import practice_dose, private_progress
from .age_bands import Band, band_of
from .goals.lines import goal_lines, student_goals
from .held import Held, held_of, in_work
from .media import newest_pairs
from .packages import left_of
from .pain_rule import rule_of
from .plans.practice import practice_of
from .private_drills import drills_of
from .private_picture import TAUGHT, setup_picture
from .private_progress import progress_words
from .shown import only, read
from .student_words import sentence


def private_page(*, student: Student, house: Academy, now: datetime) -> dict[str, Any]:
    """Return everything the page shows, as plain values."""
    today = timezone.localdate(now)
    who = read("student", Student.objects.filter(pk=student.pk))[0]
    left_handed = who["hand"] == Student.Hand.LEFT
    age, adult_age = student.age_on(today), consents.rules().adult_age
    band = band_of(age=age, adult_age=adult_age)
    junior_age = age if age is not None and age < adult_age else None
    lessons = read("lesson", student.lessons.order_by("-starts_at")[:80])
    taught = [lesson for lesson in lessons if lesson["status"] in TAUGHT]
    things = _things(student)
    practice = read("practice", student.practice.order_by("-practised_at")[:200])
    units, work = who["units"] or house.units, in_work(student=student)
    blocks, held = _blocks(student), held_of(work=work, student=student, system=units) if work else Held()
    goals = goal_lines(student=student, system=units, today=today, work=work)
    flags = health.open_flags(student=student)
    rule = rule_of(flags, age=age)
    drills = drills_of(student=student, practice=practice, today=today, rule=rule, band=band)
    picture, picture_words = setup_picture(
        student=student, who=who, thing=things[0] if things else None, numbers=band.numbers)
    return {
        "units": units, "holder": student.code, "student": _who(who, left_handed),
        "band": band, "junior": junior_age is not None,
        "thing": _thing(things[0], band) if things else None,
        "cards": health.advice_for(flags, academy=house),
        "stopped": rule.long_game_off, "all_off": rule.all_off,
        "progress": progress_words(held.verdict, band),
        "goals": student_goals(lines=goals, band=band), "picture": picture, "picture_words": picture_words,
        "first_ten": private_progress.first_ten(blocks=blocks, wanted=held.quantity, left_handed=left_handed),
        "aids": private_progress.aids(blocks=blocks, wanted=held.quantity, left_handed=left_handed),
        "drills": drills, "todays": next((drill for drill in drills if drill["open"]), None),
        "plan": practice_of(student=student, day=today, rule=rule, band=band, adult_age=adult_age),
        "dose": _dose(who, practice, now, band), "load": _load(junior_age, practice, lessons, now),
        "practice": [_practice_line(entry) for entry in practice[:10]],
        "next": _next(lessons, taught, now), "package": left_of(student=student, day=today),
        "pairs": len(newest_pairs(student=student)), "history": _history(taught, things, band), "said": _said(student),
        "messaging": consents.consent_allows(student=student, item=Consent.Item.MESSAGING, day=today),
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


def _things(student: Student) -> list[dict[str, Any]]:
    """Return the changes that were chosen, newest first. One query."""
    rows = Prescription.objects.filter(
        lesson__student=student, lesson__status__in=TAUGHT, removed_at__isnull=True
    ).order_by("-lesson__starts_at", "-pk")
    found = read("prescription", rows[:80])
    return [{**row, "change": sentence(row["change"]), "stop_sign": sentence(row["stop_sign"])} for row in found]


def _thing(thing: dict[str, Any], band: Band) -> dict[str, Any]:
    """Return the one thing for an age: the cue stays as it was said, measures are for those who read them."""
    return {**thing, **{key: thing[key] if band.may_read(thing[key]) else "" for key in ("change", "stop_sign")}}


def _blocks(student: Student) -> list[dict[str, Any]]:
    """Return the blocks that are compared, newest visit first. Two queries; more where numbers are stale."""
    rows = Block.objects.filter(
        lesson__student=student, lesson__status__in=TAUGHT, removed_at__isnull=True,
        purpose__in=[Block.Purpose.FIRST_TEN, Block.Purpose.WITH_AID, Block.Purpose.NO_AID],
    )
    for stale in rows.exclude(summary_version=SUMMARY_VERSION).select_related("lesson__device"):
        refresh(stale)
    return read("block", rows.order_by("-lesson__starts_at", "-position")[:40])


def _dose(
    who: dict[str, Any], practice: list[dict[str, Any]], now: datetime, band: Band
) -> practice_dose.Dose:
    week = [entry for entry in practice if entry["practised_at"] >= now - timedelta(days=7)]
    return practice_dose.todays_dose(
        week_minutes=who["practice_minutes_week"], done_times=len(week),
        done_minutes=sum(entry["minutes"] or 0 for entry in week), most_minutes=band.most_minutes,
    )


def _load(
    junior_age: int | None, practice: list[dict[str, Any]], lessons: list[dict[str, Any]], now: datetime
) -> str:
    """Return a word of warning about too much practice, or nothing."""
    weeks = [0, 0, 0, 0, 0]
    minutes = 0
    for entry in practice:
        week = (now - entry["practised_at"]).days // 7
        if 0 <= week < len(weeks):
            weeks[week] += entry["balls"] or 0
            minutes += (entry["minutes"] or 0) if week == 0 else 0
    minutes += sum(
        lesson["minutes"] for lesson in lessons
        if lesson["status"] in TAUGHT and timedelta(0) <= now - lesson["starts_at"] < timedelta(days=7)
    )
    if practice_dose.too_many_hours(age=junior_age, week_minutes=minutes):
        return (f"{minutes // 60} hours of golf in seven days is more than the {junior_age} that fit this age. "
                "Plan at least one day off, and tell the coach about any ache.")
    if practice_dose.is_steep(week_balls=weeks[0], earlier_weeks=weeks[1:]):
        return "This week has many more balls than the weeks before. A day off now keeps you swinging."
    return ""


def _practice_line(entry: dict[str, Any]) -> dict[str, Any]:
    return only(("practised_at", "minutes", "balls", "hits", "note"), entry)


def _next(lessons: list[dict[str, Any]], taught: list[dict[str, Any]], now: datetime) -> dict[str, Any]:
    """Return the next date: a booked lesson first, else the day agreed at the last one."""
    booked = [row["starts_at"] for row in lessons if row["status"] == Lesson.Status.PLANNED and row["starts_at"] > now]
    last = taught[0] if taught else {}
    agreed = last.get("next_date")
    return {
        "booked": min(booked, default=None), "measure": sentence(last.get("next_measure", "")),
        "agreed": agreed if agreed and agreed >= timezone.localdate(now) else None,
    }


def _history(
    taught: list[dict[str, Any]], things: list[dict[str, Any]], band: Band
) -> list[dict[str, Any]]:
    changed = {
        thing["lesson__starts_at"]: thing["change"] if band.may_read(thing["change"]) else sentence(thing["cue"])
        for thing in reversed(things)
    }
    return [
        {
            "when": lesson["starts_at"], "note": lesson["student_note"],
            "worked_on": changed.get(lesson["starts_at"]) or sentence(lesson["goal"]),
        }
        for lesson in taught
    ]


def _said(student: Student) -> list[dict[str, Any]]:
    """Return the messages with their kinds in words. One query."""
    rows = read("message", student.messages.order_by("-sent_at")[:20])
    return [{**row, "label": StudentMessage.Kind(row["kind"]).label} for row in rows]
