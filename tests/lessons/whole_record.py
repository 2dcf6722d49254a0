"""A record with at least one row in every table, for the tests of what goes out and comes in again."""

import uuid
from datetime import time, timedelta

from django.utils import timezone

from academy import share
from academy.models import Club, Consent, Goal, Guardian, Guardianship, HealthFlag, Intent, PainReading, Venue
from lessons.models import (
    Battery,
    Booking,
    CoachCheck,
    CourseShot,
    DataSource,
    DrillAssignment,
    Finding,
    FollowUp,
    GroupClass,
    Incident,
    Lesson,
    LibraryEntry,
    LiveBall,
    MessageText,
    Plan,
    PlanTemplate,
    PracticeDays,
    PracticeEntry,
    Prescription,
    QueueMark,
    Round,
    SetupLook,
    SetupObservation,
    SetupSeries,
    SkillBall,
    SkillTest,
    StudentEvent,
    StudentMessage,
    Waiting,
    WatchedFile,
    WorkingHours,
)
from lessons.services import imports
from lessons.services.lessons import change_lesson
from lessons.services.library import override_window
from lessons.services.packages import sell_package
from lessons.services.sources import issue_token
from lessons.services.standing import refresh_standing
from tests import factories

SECRET_WORDS = "hip hurts since March"


def make_world(*, student, other_coach):
    """At least one row in every table, for two students of two coaches."""
    venue = Venue.objects.create(name="Saltmarsh range", altitude_m=12.3456789)
    source = DataSource.objects.create(name="Bay 3", columns={"carry_m": {"heading": "Carry", "unit": "yd"}})
    issue_token(source=source)
    fill(student, venue, source)
    fill(factories.make_student(coach=other_coach, name="Tove Lind", hand="left"), venue, source)
    override_window(by=student.coach, club="driver", checkpoint="feet_deg", low=-1, high=1, reason="house rule")
    LiveBall.objects.create(data_source=source, numbers={"carry_m": 150.25}, club_name="7i", category="mid_iron")
    WatchedFile.objects.create(data_source=source, name="day.csv", digest="0" * 64, lines_read=3)
    PlanTemplate.objects.create(kind="group", title="Saturday", body={"stations": []})
    LibraryEntry.objects.create(kind="drill", slug="two-sticks", title="Two sticks", data={"slug": "two-sticks"})
    WorkingHours.objects.create(coach=other_coach, weekday=2, opens=time(9), closes=time(17, 30))
    CoachCheck.objects.create(coach=other_coach, kind="first_aid", done_on="2026-01-05", expires_on="2028-01-05")
    MessageText.objects.create(cause="overdue", subject="Your next lesson", body="Dear {first_name}, …")
    return student


def fill(student, venue, source) -> None:
    coach, today, now = student.coach, timezone.localdate(), timezone.now()
    student.notes = SECRET_WORDS
    student.save()
    guardian = Guardian.objects.create(name=f"Ada for {student}")
    Guardianship.objects.create(student=student, guardian=guardian)
    Consent.objects.create(
        student=student, item="filming", given_by_guardian=guardian, given_by_name="Ada", given_on=today,
        expires_on=today + timedelta(days=9),
    )
    Goal.objects.create(student=student, text="=HYPERLINK(1)", lower=-1.5)
    club = Club.objects.create(student=student, name="Driver", category="driver", loft_deg=10.5)
    Intent.objects.create(student=student, category="driver", shape="draw")
    HealthFlag.objects.create(student=student, area="hip", severity=2, reported_at=now, text=SECRET_WORDS)
    PainReading.objects.create(student=student, severity=2, said_on=today)
    share.issue_link(student=student, by=coach)
    lesson = factories.make_lesson(
        student=student, venue=venue, device=source, private_note=SECRET_WORDS, status=Lesson.Status.FINISHED,
    )
    block = factories.make_block(lesson=lesson, club=club, aids=["sticks"])
    factories.add_balls(block=block, club_path_deg=[1 / 3, -6.0, 5.5], carry_m=[200.1, 190.2, 210.3])
    factories.add_call(block=block, called_start=1, called_curve=-2, contact="thin")
    batch = imports.look_at(
        by=coach, lesson=lesson, data=b"Club,Path (deg),Carry (m)\n7 iron,1.0,140\n", filename="a.csv", block=None
    )
    imports.store(by=coach, batch=batch)
    change_lesson(by=coach, lesson=lesson, sentence="Goal set", goal="Feet first")
    change_lesson(by=coach, lesson=lesson, sentence="Bay changed", device=None)
    finding = Finding.objects.create(
        lesson=lesson, block=block, pattern="over_draw", title="Draws too much", state="hint", belief=SECRET_WORDS
    )
    Prescription.objects.create(lesson=lesson, finding=finding, change="Feet left", expected={"club_path_deg": -2.0})
    SetupObservation.objects.create(lesson=lesson, category="driver", checkpoint="feet_deg", value=4.25)
    series = SetupSeries.objects.create(lesson=lesson, category="driver", club_name="Driver", aids=["sticks"])
    SetupLook.objects.create(series=series, number=1, checkpoint="feet_deg", value=3.5, entered="3.5")
    drill = DrillAssignment.objects.create(student=student, lesson=lesson, drill="two-sticks", starts_on=today)
    PracticeEntry.objects.create(
        student=student, assignment=drill, key=uuid.uuid4(), practised_at=now, minutes=20, pain=3, note=SECRET_WORDS
    )
    FollowUp.objects.create(lesson=lesson, channel="link", text=SECRET_WORDS, sent_at=now)
    StudentMessage.objects.create(student=student, key=uuid.uuid4(), text=SECRET_WORDS, sent_at=now)
    in_class(lesson)
    Incident.objects.create(
        happened_on=today, kind="near_miss", student=student, what="A ball over the net", keeper=coach, venue=venue
    )
    QueueMark.objects.create(student=student, cause="overdue", about="visit of May", reason=SECRET_WORDS)
    sell_package(by=coach, student=student, key=uuid.uuid4(), name="Six lessons", lessons=6, price_cents=30000)
    battery = Battery.objects.create(
        student=student, begun_on=today, lesson=lesson, health={"dizzy": SECRET_WORDS}, looked={"turn": "easy"})
    test = SkillTest.objects.create(student=student, lesson=lesson, battery=battery, design="putt_five", seed=7)
    SkillBall.objects.create(test=test, number=1, target_m=1.524, done=True)
    StudentEvent.objects.create(student=student, name="Club championship", on_date=today)
    Plan.objects.create(
        student=student, lesson=lesson, kind="lesson", title="Hour", starts_on=today, body={"note": SECRET_WORDS})
    PracticeDays.objects.create(student=student, weekdays=[0, 3], at=time(18), told={"uid": {"summary": SECRET_WORDS}})
    CourseShot.objects.create(
        lesson=lesson, hole=1, number=1, key=uuid.uuid4(), lie="tee", club="Driver", result="as_meant")
    Round.objects.create(
        student=student, played_on=today, adjusted_gross=90, course_rating=71.2, slope=128, official_index=16.6)
    refresh_standing(student=student)


def in_class(lesson) -> None:
    coach = lesson.coach
    one = GroupClass.objects.create(name="Saturday class", coach=coach, starts_at=timezone.now(), venue=lesson.venue)
    Booking.objects.create(lesson=lesson, group=one, bay="4", cancel_note=SECRET_WORDS, published={"minutes": 60})
    Waiting.objects.create(student=lesson.student, coach=coach, group=one, wish="Tuesdays")
