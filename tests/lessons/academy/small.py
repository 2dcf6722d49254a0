"""A small academy whose every figure can be counted on paper. Today is Wednesday 6 May 2026, noon in Dublin.

    Ana   adult   lessons 1 Apr, 15 Apr, 29 Apr (first ten at 15 Apr only); next one booked; 4 of 5 lessons left;
                  ten rounds of 20.0 in January and one of 10.0 in April; a club of May 2024, two years old
    Bo    adult   lessons 1 Dec, 15 Dec, 1 Feb; agreed for 15 Feb, nothing booked; one of two lessons left;
                  ten rounds of 20.0 in January and one of 30.0 in April; a club of May 2025
    Cy    junior  lessons 1 May (second adult), 4 May (none); all three consents, filming ends in 10 days
    Di    junior  came to a class on 2 May; lacks the consent for messages
    Ed    adult   paused, injured; lesson 10 Jan; did not come 20 Apr; cancelled late on 22 Apr, in time on 24 Apr
    Flo   adult   new on 1 May, no lesson yet
"""

import uuid
from datetime import date, datetime, time, timedelta

from academy.journal import journal
from academy.models import Club, Consent
from lessons.models import (
    Block,
    Booking,
    CoachCheck,
    DrillAssignment,
    FollowUp,
    GroupClass,
    Incident,
    Lesson,
    PracticeEntry,
    Round,
    WorkingHours,
)
from lessons.services.packages import sell_package, use_for_lesson
from lessons.services.standing import refresh_standing
from tests import factories
from tests.lessons.diary.hours import at

TODAY = date(2026, 5, 6)
NOON = at("2026-05-06 12:00")


def moment(day: str, hour: int = 10) -> datetime:
    return at(f"2026-{day} {hour:02}:00") if day < "12" else at(f"2025-{day} {hour:02}:00")


def lesson(student, day: str, *, first_ten=False, given_after_h=None, opened=False, **values) -> Lesson:
    starts = moment(day)
    whole = {"status": "finished", "starts_at": starts, "finished_at": starts + timedelta(hours=1), **values}
    made = factories.make_lesson(student=student, **whole)
    purpose = Block.Purpose.FIRST_TEN if first_ten else Block.Purpose.EXPLORE
    block = factories.make_block(lesson=made, purpose=purpose)
    Block.objects.filter(pk=block.pk).update(summary={"balls": 10}, summary_version="x")
    if given_after_h is not None:
        sent = made.finished_at + timedelta(hours=given_after_h)
        FollowUp.objects.create(lesson=made, channel="copy", sent_at=sent, opened_at=sent if opened else None)
    return made


def joined(name, coach, day: date, **values):
    return factories.make_student(
        coach=coach, name=name, created_at=datetime.combine(day, time(9), tzinfo=NOON.tzinfo), **values)


def sold(student, lessons, used_by=(), **values) -> None:
    sell_package(by=student.coach, student=student, key=uuid.uuid4(), name="Pack", lessons=lessons,
                 price_cents=lessons * 5000, **values)
    for one in used_by:
        with journal(by=student.coach, sentence="used") as entry:
            use_for_lesson(entry=entry, lesson=one)


def build(coach, other_coach) -> dict:
    """Return the students by name. Ana, Bo, Cy and Flo are the first coach's, Di and Ed the second's."""
    long_ago = date(2025, 6, 1)
    ana, bo = joined("Ana", coach, long_ago), joined("Bo", coach, long_ago)
    cy = joined("Cy", coach, date(2026, 4, 20), born_on=date(2015, 1, 1))
    di = joined("Di", other_coach, long_ago, born_on=date(2016, 1, 1))
    ed = joined("Ed", other_coach, long_ago, status="paused", pause_reason="injury")
    flo = joined("Flo", coach, date(2026, 5, 1))
    _adults(ana, bo, ed)
    _rounds_and_clubs(ana, bo, cy)
    _juniors(cy, di)
    for student in (ana, bo, cy, di, ed, flo):
        refresh_standing(student=student)
    _office(coach, other_coach)
    return {one.name: one for one in (ana, bo, cy, di, ed, flo)}


def _adults(ana, bo, ed) -> None:
    lesson(ana, "04-01", given_after_h=2, opened=True)
    lesson(ana, "04-15", first_ten=True, given_after_h=30)
    last = lesson(ana, "04-29", given_after_h=1, minutes=90)
    factories.make_lesson(student=ana, status="planned", starts_at=at("2026-05-13 10:00"))
    DrillAssignment.objects.create(student=ana, drill="gate", starts_on=date(2026, 4, 29))
    PracticeEntry.objects.create(student=ana, key=uuid.uuid4(), practised_at=at("2026-05-01 18:00"))
    sold(ana, 5, [last], starts_on=date(2026, 3, 1), expires_on=date(2026, 6, 5))
    lesson(bo, "12-01")
    lesson(bo, "12-15")
    last = lesson(bo, "02-01", next_date=date(2026, 2, 15))
    sold(bo, 2, [last], starts_on=date(2026, 1, 15))
    lesson(ed, "01-10")
    factories.make_lesson(student=ed, status="no_show", starts_at=moment("04-20"))
    for day, notice in (("04-22", 3), ("04-24", 48)):
        off = factories.make_lesson(student=ed, status="cancelled", starts_at=moment(day))
        Booking.objects.create(
            lesson=off, cancel_reason="student", cancelled_at=moment(day) - timedelta(hours=notice))


def _rounds_and_clubs(ana, bo, cy) -> None:
    for student, winter, april in ((ana, 10, 10.0), (bo, 10, 30.0), (cy, 9, 10.0)):
        days = [(date(2026, 1, day), 20.0) for day in range(1, winter + 1)] + [(date(2026, 4, 10), april)]
        for day, value in days:
            Round.objects.create(student=student, played_on=day, adjusted_gross=90, official_differential=value)
    for student, since in ((ana, date(2024, 5, 1)), (ana, date(2026, 1, 1)), (bo, date(2025, 5, 1))):
        Club.objects.create(student=student, name="7 iron", category="mid_iron", from_date=since)
    Club.objects.create(student=bo, name="Old 7 iron", category="mid_iron", from_date=date(2020, 1, 1),
                        to_date=date(2025, 5, 1))


def _juniors(cy, di) -> None:
    lesson(cy, "05-01", second_adult="bay 4")
    lesson(cy, "05-04", first_ten=True)
    for student, items in ((cy, ("lessons", "medical", "messaging")), (di, ("lessons", "medical"))):
        for item in items:
            Consent.objects.create(student=student, item=item, given_by_name="Ada", given_on=date(2026, 1, 1),
                                   expires_on=date(2026, 12, 31))
    Consent.objects.create(student=cy, item="filming", given_by_name="Ada", given_on=date(2025, 6, 1),
                           expires_on=TODAY + timedelta(days=10))
    held = GroupClass.objects.create(
        name="Saturday class", coach=di.coach, starts_at=moment("05-02"), capacity=4, status="held")
    Booking.objects.create(lesson=lesson(di, "05-02", kind="group"), group=held)


def _office(coach, other_coach) -> None:
    WorkingHours.objects.create(coach=coach, weekday=2, opens=time(9), closes=time(17))  # Wednesdays
    for kind in CoachCheck.Kind.values:
        CoachCheck.objects.create(coach=coach, kind=kind, done_on=date(2025, 1, 1), expires_on=date(2027, 1, 1))
    CoachCheck.objects.create(
        coach=other_coach, kind="first_aid", done_on=date(2024, 1, 1), expires_on=date(2026, 5, 5))
    Incident.objects.create(happened_on=date(2026, 4, 26), kind="near_miss", what="A ball over the net", keeper=coach)
    Incident.objects.create(happened_on=date(2026, 4, 1), kind="property", what="A window", keeper=coach,
                            closed_on=date(2026, 4, 2), outcome="Net mended")
