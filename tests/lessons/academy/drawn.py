"""An academy drawn at random from a fixed seed, written straight into the tables: messier than one made by hand.

Some lessons at night, on both nights of the clock change, cancelled late and in time; packages used up, run out and
paid back; consents that were withdrawn; students who left, paused, or never came.
"""

import random
import uuid
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from academy.models import Club, Coach, Consent, ShareLink, Student
from lessons.models import (
    Block,
    Booking,
    CoachCheck,
    FollowUp,
    GroupClass,
    Incident,
    Lesson,
    Package,
    PackageEntry,
    PracticeEntry,
    Round,
    Standing,
    WorkingHours,
)
from lessons.services.standing import refresh_standing
from tests import factories

DUBLIN = ZoneInfo("Europe/Dublin")
NOW = datetime(2026, 5, 6, 12, 0, tzinfo=DUBLIN)
TODAY = NOW.date()
VERDICTS = ("established", "likely", "cannot_tell", "slipped", "overshot", "")


class Draw(random.Random):
    """Random days, hours and rows."""

    def day(self, back: int, ahead: int = 0) -> date:
        return TODAY + timedelta(days=self.randint(-back, ahead))

    def moment(self, back: int, ahead: int = 0) -> datetime:
        return datetime.combine(self.day(back, ahead), time(self.choice((0, 1, 8, 10, 17, 23)), self.choice((0, 30))),
                                tzinfo=DUBLIN)

    def maybe(self, chance: float) -> bool:
        return self.random() < chance


def build(*, students: int, seed: int = 11) -> list[Coach]:
    """Fill the tables; return the coaches, the owner last."""
    draw = Draw(seed)
    coaches = [factories.make_coach(f"drawn{i}", first_name=f"Coach {i}", is_coach=True) for i in range(3)]
    people = Student.objects.bulk_create(_student(draw, i, coaches) for i in range(students))
    for person in people:
        _lessons(draw, person)
        _things(draw, person)
    _office(draw, coaches)
    for person in people:
        refresh_standing(student=person)
        Standing.objects.filter(student=person).update(verdict=draw.choice(VERDICTS))
    return [*coaches, factories.make_coach("drawn-owner", is_owner=True, is_coach=False)]


def _student(draw: Draw, number: int, coaches: list[Coach]) -> Student:
    status = draw.choices(("active", "paused", "left"), (8, 1, 1))[0]
    return Student(
        coach=draw.choice(coaches), name=f"Student {number:03}", status=status,
        pause_reason="injury" if status == "paused" else "", created_at=draw.moment(600),
        born_on=draw.choice((None, draw.day(3000) - timedelta(days=2500), date(1980, 5, 6), date(2008, 5, 6))),
    )


def _lessons(draw: Draw, person: Student) -> None:
    came = draw.choice((0, 1, 2, 5, 9, 14))
    first = draw.randint(10, 900)
    lessons = []
    for number in range(came):
        starts = draw.moment(first) + timedelta(minutes=number)
        status = draw.choices(("finished", "no_show", "cancelled"), (12, 1, 2))[0]
        lessons.append(Lesson(
            student=person, coach=draw.choice((person.coach, person.coach, Coach.objects.first())), status=status,
            kind=draw.choices(("lesson", "test", "course", "practice"), (10, 1, 1, 1))[0], starts_at=starts,
            minutes=draw.choice((30, 60, 90)),
            finished_at=starts + timedelta(minutes=70) if status == "finished" and draw.maybe(0.8) else None,
            second_adult=draw.choice(("", "bay 4")), next_date=draw.choice((None, draw.day(60, 40)))))
    if draw.maybe(0.4):
        lessons.append(Lesson(student=person, coach=person.coach, status="planned", starts_at=draw.moment(0, 30)))
    for lesson in Lesson.objects.bulk_create(lessons):
        _after(draw, lesson)


def _after(draw: Draw, lesson: Lesson) -> None:
    if lesson.status == "cancelled":
        Booking.objects.create(
            lesson=lesson, cancel_reason=draw.choice(("student", "ill", "weather")),
            cancelled_at=lesson.starts_at - timedelta(hours=draw.choice((1, 24, 25, 60))))
    if lesson.status != "finished":
        return
    if draw.maybe(0.8):
        Block.objects.create(
            lesson=lesson, position=1, category="driver", intent="straight", summary_version="x",
            purpose=draw.choice(("first_ten", "no_aid")), summary={"balls": draw.choice((0, 10, 10))})
    for _ in range(draw.choice((0, 1, 1, 2))):
        sent = lesson.starts_at + timedelta(hours=draw.choice((1, 20, 25, 26, 80)))
        FollowUp.objects.create(lesson=lesson, channel=draw.choice(("copy", "mail", "link")), sent_at=sent,
                                opened_at=draw.choice((None, sent + timedelta(hours=5))))


def _things(draw: Draw, person: Student) -> None:
    for _ in range(draw.choice((0, 0, 1, 2))):
        _package(draw, person)
    for _ in range(draw.choice((0, 1, 2))):
        made = draw.moment(300)
        ShareLink.objects.create(
            student=person, created_at=made, prefix=uuid.uuid4().hex[:8], digest="x", expires_at=made + timedelta(60),
            revoked_at=draw.choice((None, made + timedelta(days=3))))
    for _ in range(draw.choice((0, 0, 3))):
        PracticeEntry.objects.create(student=person, key=uuid.uuid4(), practised_at=draw.moment(60))
    for item in ("lessons", "medical", "messaging", "filming"):
        for _ in range(draw.choice((0, 1, 1, 2))):
            given = draw.day(500)
            Consent.objects.create(
                student=person, item=item, given_by_name="Ada", given_on=given, expires_on=given + timedelta(days=365),
                withdrawn_on=draw.choice((None, None, None, given + timedelta(days=30))))
    for _ in range(draw.choice((0, 0, 9, 30))):
        _round(draw, person)
    for _ in range(draw.choice((0, 1, 3))):
        since = draw.day(1400)
        Club.objects.create(student=person, name="7 iron", category="mid_iron", from_date=draw.choice((None, since)),
                            to_date=draw.choice((None, TODAY, since + timedelta(days=900))))


def _package(draw: Draw, person: Student) -> None:
    start, lessons = draw.day(400), draw.choice((3, 5, 10))
    soon = TODAY + timedelta(days=draw.choice((0, 29, 30, 31)))
    package = Package.objects.create(
        student=person, name="Pack", lessons=lessons, price_cents=lessons * draw.choice((4550, 6000)), starts_on=start,
        expires_on=draw.choice((None, start + timedelta(days=180), soon)),
        removed_at=draw.choice((None, None, None, NOW)))
    PackageEntry.objects.create(package=package, kind="bought", lessons=lessons, on_date=start,
                                amount_cents=package.price_cents)
    for _ in range(draw.randint(0, lessons)):
        PackageEntry.objects.create(package=package, kind="used", lessons=-1, on_date=draw.day(200))
    if package.balance() and draw.maybe(0.2):
        PackageEntry.objects.create(
            package=package, kind="refunded", lessons=-1, amount_cents=-2000, on_date=draw.day(90))


def _round(draw: Draw, person: Student) -> None:
    if draw.maybe(0.5):
        numbers = {"official_differential": draw.choice((12.3, 18.0, 25.4)), "adjusted_gross": 90}
    else:
        numbers = {"adjusted_gross": draw.randint(68, 110), "course_rating": draw.choice((70.9, 72.4)),
                   "slope": draw.choice((113, 128)), "pcc": draw.choice((-1, 0, 1))}
    Round.objects.create(student=person, played_on=draw.day(800), removed_at=draw.choice((None, None, None, NOW)),
                         **numbers)


def _office(draw: Draw, coaches: list[Coach]) -> None:
    for coach in coaches[:2]:
        WorkingHours.objects.create(coach=coach, weekday=2, opens=time(9), closes=time(12, 30))
        WorkingHours.objects.create(coach=coach, weekday=5, opens=time(8), closes=time(17))
        for kind in CoachCheck.Kind.values:
            done = draw.day(700)
            CoachCheck.objects.create(coach=coach, kind=kind, done_on=done, expires_on=done + timedelta(days=600))
    for number in range(24):
        _class(draw, draw.choice(coaches), f"Class {number}")
    for _ in range(14):
        happened = draw.day(400)
        Incident.objects.create(
            happened_on=happened, kind=draw.choice(("near_miss", "property")), what="A ball over the net",
            keeper=draw.choice(coaches), closed_on=draw.choice((None, happened)))


def _class(draw: Draw, coach: Coach, name: str) -> None:
    starts, status = draw.moment(400, 20), draw.choice(("held", "held", "planned", "cancelled"))
    group = GroupClass.objects.create(name=name, coach=coach, starts_at=starts, capacity=6, status=status)
    for person in draw.sample(list(Student.objects.filter(coach=coach)), 4):
        state = draw.choice(("finished", "no_show")) if status == "held" else status
        lesson = Lesson.objects.create(student=person, coach=coach, kind="group", status=state, starts_at=starts)
        Booking.objects.create(lesson=lesson, group=group)
