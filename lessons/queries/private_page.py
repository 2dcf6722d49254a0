"""What a student reads on the private page: plain values only, fetched by the list in ``shown``.

About twenty queries, however many visits, balls and practices there are.
"""

from collections import Counter
from datetime import date, datetime, timedelta
from typing import Any

from django.utils import timezone
from django.utils.safestring import SafeString

from academy import consents, health
from academy.models import Academy, Consent, Student
from lessons.models import Block, Lesson, Prescription, SetupObservation, StudentMessage
from lessons.pictures import setup_plan
from lessons.summaries import SUMMARY_VERSION, refresh
from metrics.checkpoints import DEFAULT_SHOULDER_WIDTH_CM

from . import practice_dose, private_progress
from .held import held_for
from .shown import CARD, only, read
from .student_words import sentence

TAUGHT = (Lesson.Status.RUNNING, Lesson.Status.FINISHED)
YOUNG_BELOW = 11
"""Below this age the page leaves numbers out: children of that age play with targets, not with degrees."""


def private_page(*, student: Student, house: Academy, now: datetime) -> dict[str, Any]:
    """Return everything the page shows, as plain values."""
    today = timezone.localdate(now)
    who = read("student", Student.objects.filter(pk=student.pk))[0]
    left_handed = who["hand"] == Student.Hand.LEFT
    lessons = read("lesson", student.lessons.order_by("-starts_at")[:80])
    taught = [lesson for lesson in lessons if lesson["status"] in TAUGHT]
    things = _things(student)
    practice = read("practice", student.practice.order_by("-practised_at")[:200])
    blocks, held = _blocks(student), held_for(student=student, system=who["units"] or house.units)
    rules = consents.rules()
    age = student.age_on(today)
    cards = health.advice_for(health.open_flags(student=student), academy=house)
    picture, picture_words = _picture(student, who, left_handed, things[0] if things else None)
    return {
        "units": who["units"] or house.units,
        "holder": student.code,
        "student": _who(who, left_handed),
        "band": "young" if age is not None and age < YOUNG_BELOW else "older",
        "junior": age is not None and age < rules.adult_age,
        "thing": things[0] if things else None,
        "cards": cards,
        "stopped": any(card.stop for card in cards),
        "progress": held.verdict.student if held.verdict else None,
        "picture": picture, "picture_words": picture_words,
        "first_ten": private_progress.first_ten(blocks=blocks, wanted=held.quantity, left_handed=left_handed),
        "aids": private_progress.aids(blocks=blocks, wanted=held.quantity, left_handed=left_handed),
        "drills": _drills(student, practice, today),
        "dose": _dose(who, practice, now),
        "load": _load(age if age is not None and age < rules.adult_age else None, practice, lessons, now),
        "practice": [_practice_line(entry) for entry in practice[:10]],
        "next": _next(lessons, taught, now),
        "history": _history(taught, things),
        "said": _said(student),
        "messaging": consents.consent_allows(student=student, item=Consent.Item.MESSAGING, day=today),
    }


def practice_page(*, student: Student, house: Academy, code: Any, now: datetime) -> dict[str, Any] | None:
    """Return one running drill and whether full swings are off; None where it is not theirs. Three queries."""
    drills = _drills(student, read("practice", student.practice.order_by("-practised_at")[:200]),
                     timezone.localdate(now))
    drill = next((drill for drill in drills if str(drill["code"]) == str(code)), None)
    if drill is None:
        return None
    cards = health.advice_for(health.open_flags(student=student), academy=house)
    return {
        "drill": drill, "cards": cards, "stopped": any(card.stop for card in cards), "stop_card": health.STOP,
        "emergency_card": health.emergency(house), "stop_at": health.STOP_AT, "holder": student.code,
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


def _blocks(student: Student) -> list[dict[str, Any]]:
    """Return the blocks that are compared, newest visit first. Two queries; more where numbers are stale."""
    rows = Block.objects.filter(
        lesson__student=student, lesson__status__in=TAUGHT, removed_at__isnull=True,
        purpose__in=[Block.Purpose.FIRST_TEN, Block.Purpose.WITH_AID, Block.Purpose.NO_AID],
    )
    for stale in rows.exclude(summary_version=SUMMARY_VERSION).select_related("lesson"):
        refresh(stale)
    return read("block", rows.order_by("-lesson__starts_at", "-position")[:40])


def _drills(student: Student, practice: list[dict[str, Any]], today: date) -> list[dict[str, Any]]:
    """Return the drills of today with how often each was practised in the last seven days. One query."""
    week = timezone.now() - timedelta(days=7)
    done = Counter(entry["assignment__code"] for entry in practice if entry["practised_at"] >= week)
    rows = read("drill", student.assignments.filter(removed_at__isnull=True, starts_on__lte=today))
    newest: dict[str, dict[str, Any]] = {}
    for row in rows:  # a drill given again is shown once, as it was given last
        if row["ends_on"] is None or row["ends_on"] >= today:
            done[row["code"]] += done[newest[row["drill"]]["code"]] if row["drill"] in newest else 0
            newest[row["drill"]] = row
    return [_drill(row, done[row["code"]]) for row in reversed(newest.values())]


def _drill(row: dict[str, Any], done: int) -> dict[str, Any]:
    card = row["card"] or {}
    shown = only(CARD, card)
    said = {key: sentence(shown[key]) for key in ("why", "setup", "pass_mark", "caution", "harder", "easier")
            if key in shown}
    return {
        **shown, **said, "steps": [sentence(step) for step in shown.get("steps", [])],
        "code": row["code"], "name": card.get("name", row["drill"]), "done": done,
        "dose": row["dose"] or card.get("dose", ""), "minutes_week": row["minutes_week"],
    }


def _dose(who: dict[str, Any], practice: list[dict[str, Any]], now: datetime) -> practice_dose.Dose:
    week = [entry for entry in practice if entry["practised_at"] >= now - timedelta(days=7)]
    return practice_dose.todays_dose(
        week_minutes=who["practice_minutes_week"], done_times=len(week),
        done_minutes=sum(entry["minutes"] or 0 for entry in week),
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


def _history(taught: list[dict[str, Any]], things: list[dict[str, Any]]) -> list[dict[str, Any]]:
    changed = {thing["lesson__starts_at"]: thing["change"] for thing in reversed(things)}
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


def _picture(
    student: Student, who: dict[str, Any], left_handed: bool, thing: dict[str, Any] | None
) -> tuple[SafeString | None, str]:
    """Draw the setup to copy and say what it shows. One query.

    The newest lesson's values after the change; where there is no after, the one thing stands where it is to go:
    nobody is to copy the setup that was found wanting.
    """
    rows = read("setup", SetupObservation.objects.filter(
        lesson__student=student, lesson__status__in=TAUGHT, removed_at__isnull=True
    ).order_by("-lesson__starts_at", "-pk")[:80])
    if not rows:
        return None, ""
    same = [row for row in rows if (row["lesson__starts_at"], row["category"]) == (
        rows[0]["lesson__starts_at"], rows[0]["category"])]
    after: dict[str, float] = {}
    values: dict[str, float] = {}
    for row in same:
        (after if row["phase"] == "after" else values).setdefault(row["checkpoint"], row["value"])
    words = "Your setup from above, to copy." if after else "Your setup from above, as it was in the lesson."
    fresh = thing and thing["lesson__starts_at"] >= rows[0]["lesson__starts_at"] and thing["value_to"] is not None
    if fresh and thing["checkpoint"] in values and thing["checkpoint"] not in after:
        words = "Your setup from above, with the one thing as it should be. The rest is as it was in the lesson."
        values[thing["checkpoint"]] = thing["value_to"]
    values |= after
    width = who["shoulder_width_cm"] or DEFAULT_SHOULDER_WIDTH_CM
    ratio = values.get("stance_width_ratio")
    drawn = {key: values.get(key) for key in (
        "feet_deg", "hips_deg", "shoulders_deg", "face_aim_deg", "lead_flare_deg", "trail_flare_deg")}
    drawn |= {"ball_cm": values.get("ball_position_cm"), "stance_width_cm": ratio * width if ratio else None}
    if all(value is None for value in drawn.values()):
        return None, ""
    picture = setup_plan.draw(setup_plan.Plan(
        now=setup_plan.Setup(**drawn), left_handed=left_handed, shoulder_width_cm=width, key="mine",
        title="Your setup from above", now_word="yours",
    ))
    return picture, words
