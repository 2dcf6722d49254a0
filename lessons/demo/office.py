"""The office of the demo: packages as a ledger, bookings to come, classes, who waits, incidents, what Monday left."""

import random
from datetime import date, datetime, timedelta

from academy.models import Coach, Student
from lessons.models import (
    Booking,
    GroupClass,
    Incident,
    Lesson,
    Package,
    PackageEntry,
    QueueMark,
    Waiting,
)
from lessons.services.calendar import facts_told

from .cast import Part
from .rows import Rows
from .timeline import CLASS_HOUR, CLASS_WEEKDAY, LONG_AGO, at
from .visits import Places, Story, Visit

OFFERS = ((5, "Five lessons", 26_500), (10, "Ten lessons", 49_500), (6, "Series of six", 30_000))
JUNIOR_OFFERS = ((10, "Junior ten", 32_000), (5, "Junior five", 17_500))
Kind = PackageEntry.Kind


def sell_and_use(*, rows: Rows, part: Part, visits: list[Visit], today: date) -> None:
    """Write the packages behind somebody's lessons: bought when one is needed, used one by one, expired after a
    year. Some people pay lesson by lesson."""
    rng = rows.random
    kept = part.scene.package if part.scene else ""
    if not kept and rng.random() < 0.18:
        return
    lessons = [visit.lesson for visit in visits if visit.lesson.kind in {Lesson.Kind.LESSON, Lesson.Kind.COURSE}]
    package, left = None, 0
    for place, lesson in enumerate(lessons):
        day = lesson.starts_at.date()
        if package is not None and package.expires_on < day and left:
            rows.add(PackageEntry, package=package, kind=Kind.EXPIRED, lessons=-left, on_date=package.expires_on,
                     at=at(package.expires_on, 23))
            left = 0
        if not left:
            size = len(lessons) - place if kept == "used" and len(lessons) - place <= 6 else None
            package, left = _sold(rows, part, lesson, size=size)
        left -= 1
        rows.add(PackageEntry, package=package, kind=Kind.USED, lessons=-1, on_date=day, lesson=lesson,
                 at=lesson.finished_at)
    if not kept and left < 2 and rng.random() < 0.65:
        _sold(rows, part, lessons[-1], size=None)  # the next one, in good time
    if not kept and left > 2 and rng.random() < 0.03:
        back = round(package.price_cents * left / package.lessons)
        rows.add(PackageEntry, package=package, kind=Kind.REFUNDED, lessons=-left, amount_cents=-back, on_date=today,
                 invoice=f"R-{rng.randint(100, 999)}", note="Moves away", at=at(today, 9))


def _sold(rows: Rows, part: Part, lesson: Lesson, *, size: int | None) -> tuple[Package, int]:
    rng, day = rows.random, lesson.starts_at.date()
    lessons, name, price = rng.choice(JUNIOR_OFFERS if part.junior else OFFERS)
    if size is not None:
        lessons, name, price = size, "Series of lessons", size * 5_200
    package = rows.add(
        Package, at=at(day, 8), student=lesson.student, name=name, lessons=lessons, price_cents=price, starts_on=day,
        expires_on=day + timedelta(days=rng.choice([365, 365, 365, 240])), created_by=lesson.coach,
    )
    rows.add(PackageEntry, at=at(day, 8), package=package, kind=Kind.BOUGHT, lessons=lessons, amount_cents=price,
             on_date=day, invoice=f"{day:%y}-{rng.randint(1000, 9999)}", created_by=lesson.coach)
    return package, lessons


def book_next(*, story: Story, visits: list[Visit], today_hour: int | None) -> None:
    """Write the booked lesson; ``today_hour`` is given to those whose lesson is today."""
    part, diary, last = story.part, story.diary, visits[-1].lesson
    if part.booked is None:
        return
    near = diary.today + timedelta(days=part.booked)
    day, hour = (diary.today, today_hour) if today_hour is not None else diary.take(
        coach=part.coach, near=near, hour=part.hour)
    lesson = story.rows.add(
        Lesson, at=last.finished_at, student=story.student, coach=story.coach, starts_at=at(day, hour), minutes=60,
        venue=last.venue or story.outdoors, device=story.places.devices.get(part.device), ball_type=story.ball_type,
        goal=last.goal, first_measure=last.next_measure, created_by=story.coach,
    )
    last.next_date = day
    story.book(lesson)


def run_classes(
    *, rows: Rows, coach: Coach, juniors: list[Student], places: Places, today: date, rng: random.Random,
) -> None:
    """Write the Saturday squad of the juniors, spring to autumn, and the classes to come."""
    if not juniors:
        return
    day = today - timedelta(days=LONG_AGO)
    day += timedelta(days=(CLASS_WEEKDAY - day.weekday()) % 7)
    while day <= today + timedelta(days=22):
        if day.month in {3, 4, 5, 6, 9, 10, 11} and (day.month != 11 or day >= today - timedelta(days=60)):
            here = [student for student in juniors if student.created_at.date() < day and (
                student.status == Student.Status.ACTIVE or day < today - timedelta(days=120))]
            if len(here) >= 3:
                _class(rows, coach, here[:8], places, day, today, rng)
        day += timedelta(days=7)


def _class(rows: Rows, coach: Coach, here: list[Student], places: Places, day: date, today: date, rng) -> None:
    begins, past = at(day, CLASS_HOUR), day < today
    cancelled = past and rng.random() < 0.09
    status = "cancelled" if cancelled else "held" if past else "planned"
    group = rows.add(
        GroupClass, at=begins - timedelta(days=30), name="Saturday squad", coach=coach, starts_at=begins, minutes=75,
        venue=places.grass, capacity=8, helpers=1 if rng.random() < 0.85 else 0, status=status, created_by=coach,
        cancel_reason="weather" if cancelled else "",
    )
    for student in here:
        if rng.random() < 0.12:
            continue
        away = past and not cancelled and rng.random() < 0.08
        lesson = rows.add(
            Lesson, at=begins - timedelta(days=rng.randint(3, 25)), student=student, coach=coach,
            kind=Lesson.Kind.GROUP,
            starts_at=begins, minutes=75, venue=places.grass, second_adult="helper" if group.helpers else "",
            started_at=begins if past and not cancelled and not away else None, created_by=coach,
            finished_at=begins + timedelta(minutes=75) if past and not cancelled and not away else None,
            status="cancelled" if cancelled else "no_show" if away else "finished" if past else "planned",
        )
        booking = rows.add(
            Booking, at=lesson.created_at, lesson=lesson, group=group, created_by=coach,
            cancel_reason="weather" if cancelled else "",
            cancelled_at=begins - timedelta(hours=2) if cancelled else None,
        )
        booking.changed_at, booking.published = lesson.created_at, facts_told(lesson, booking)


INCIDENTS = (
    (212, "near_miss", "A ball came back off the frame of bay 3. Nobody was hit; bay closed until the net was moved.",
     "", "Net moved, frame padded."),
    (96, "injury", "A student slipped on the wet step of the grass tee.", "Bruised shin, ice, sat out the rest.",
     "Step brushed and strip laid; message to everybody."),
    (41, "near_miss", "A child walked into the swing zone between two stations.", "",
     "Cones now mark the zone; one more helper on Saturdays."),
    (23, "property", "A screen in the studio was cracked by a topped ball.", "", ""),
    (9, "near_miss", "Thunder was heard and the class on the grass tee went on for five minutes.", "", ""),
)


def add_incidents(*, rows: Rows, coaches: list[Coach], places: Places, student: Student, today: date) -> None:
    """Some things that went wrong or nearly did, two of them still open."""
    for number, (ago, kind, what, health, outcome) in enumerate(INCIDENTS):
        day = today - timedelta(days=ago)
        rows.add(
            Incident, at=at(day, 18), happened_on=day, kind=kind, what=what, health_text=health, outcome=outcome,
            venue=(places.range, places.grass, places.grass, places.studio, places.grass)[number],
            student=student if kind == "injury" else None, keeper=coaches[number % len(coaches)],
            closed_on=day + timedelta(days=6) if outcome else None, created_by=coaches[number % len(coaches)],
        )


def add_waiting(*, rows: Rows, students: list[Student], now: datetime) -> None:
    """A few people would come sooner if an hour became free."""
    wishes = ("Tuesdays after four", "Any Friday morning", "This week, at short notice", "Before work, from eight")
    for student, wish in zip(students, wishes, strict=False):
        rows.add(Waiting, at=now - timedelta(days=4), student=student, coach=student.coach, wish=wish,
                 until=(now + timedelta(days=20)).date())


def add_marks(*, rows: Rows, last: list[Lesson], now: datetime) -> None:
    """What was done lately about rows of Monday's list: it stays as a trace."""
    for number, lesson in enumerate(last):
        rows.add(
            QueueMark, at=now - timedelta(days=2 + number, hours=3), student=lesson.student, created_by=lesson.coach,
            cause=("silent", "package", "sheet")[number % 3], about=f"before {lesson.starts_at:%Y-%m-%d}",
            reason=("Rang, will tick again", "Offered, wants to think", "Sent by hand")[number % 3],
        )
