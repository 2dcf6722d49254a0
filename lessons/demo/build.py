"""Building the demo academy from its seed."""

import random
from collections.abc import Callable
from datetime import date, datetime, time, timedelta

from django.db import transaction
from django.utils import timezone

from academy.models import (
    Academy,
    Club,
    Coach,
    Consent,
    Goal,
    Guardian,
    Guardianship,
    HealthFlag,
    Intent,
    Student,
    Venue,
)
from lessons.models import DataSource, Lesson, LibraryEntry
from lessons.services.lessons import book_lesson
from lessons.services.standing import refresh_standing

from .cast import Part, cast
from .visits import FROM_DEMO, VisitWriter

SEED = 20417
COACHES = (
    ("runa", "Runa Holm", True, False), ("piet", "Piet Arden", False, False), ("salla", "Salla Wick", False, False),
    ("ines", "Ines Quill", False, True),
)
STUDENTS = {"small": 36, "standard": 120, "large": 2000}


@transaction.atomic
@timezone.override("Europe/Dublin")
def build(*, size: str, say: Callable[[str], None], seed: int = SEED) -> None:
    """Fill an empty database with the demo academy; refuses one that holds anything."""
    if Academy.objects.exists():
        raise ValueError("The database already holds an academy.")
    Academy.objects.create(
        pk=1, name="Saltmarsh Golf School", timezone="Europe/Dublin", units="yards", is_demo=True,
        defibrillator_place="Clubhouse door, left of the pro shop",
    )
    coaches = [_coach(*row) for row in COACHES]
    teachers = [coach for coach in coaches if coach.is_coach]
    venues, devices = _venues(), _devices()
    parts = cast(seed=seed, students=STUDENTS[size])
    say(f"Inventing {len(parts)} students and their lessons …")
    for i, part in enumerate(parts):
        coach = teachers[0] if i < 14 else teachers[i % len(teachers)]
        student = _student(part, coach)
        _visits(part, student, venues[i % len(venues)], devices[part.player.device], seed + i)
    _today(parts, teachers[0])
    say(f"{Lesson.objects.count()} lessons are there.")


def _coach(username: str, full_name: str, owns: bool, welfare: bool) -> Coach:
    first, _, last = full_name.partition(" ")
    coach = Coach(
        username=username, first_name=first, last_name=last, is_owner=owns, is_welfare_lead=welfare,
        is_coach=not welfare,
    )
    coach.set_unusable_password()
    coach.save()
    return coach


def _venues() -> list[Venue]:
    return [
        Venue.objects.create(name="Saltmarsh range", altitude_m=12, surface="mat", **FROM_DEMO),
        Venue.objects.create(name="Heron grass tee", altitude_m=18, surface="turf", **FROM_DEMO),
        Venue.objects.create(name="Winter studio", altitude_m=15, indoor=True, surface="mat", **FROM_DEMO),
    ]


def _devices() -> dict[str, DataSource | None]:
    measured = {"carry_provenance": "measured", **FROM_DEMO}
    return {
        "club and ball": DataSource.objects.create(name="Bay unit, club and ball", **measured),
        "ball only": DataSource.objects.create(name="Small unit, ball only", **measured),
        "eyes": None,
    }


def _student(part: Part, coach: Coach) -> Student:
    record = dict(part.record)
    age = record.pop("age")
    rng = random.Random(part.name)
    born_on = date(timezone.localdate().year - age, rng.randint(1, 12), rng.randint(1, 28))
    student = Student.objects.create(
        coach=coach, name=part.name, born_on=born_on,
        practice_minutes_week=rng.choice([30, 60, 120]), email=_address(part), demo_hint=part.hint, created_by=coach,
        shoulder_width_cm=rng.choice([None, 37.0, 39.0, 41.0]), **record, **FROM_DEMO,
    )
    fault = part.player.fault
    Club.objects.create(student=student, name=fault.club_name, category=fault.category, **FROM_DEMO)
    Intent.objects.create(student=student, category=fault.category, shape=fault.intent, **FROM_DEMO)
    Goal.objects.create(
        student=student, kind="process", text="Aim the face before the feet, 8 of 10", quantity="club_path_deg",
        category=fault.category, test=Goal.FIRST_TEN, created_at=timezone.now() - timedelta(days=200), **FROM_DEMO,
    )
    if part.junior:
        _guardian(student)
    if part.pain:
        area, severity = part.pain
        HealthFlag.objects.create(
            student=student, area=area, severity=severity, reported_at=timezone.now() - timedelta(days=2), **FROM_DEMO
        )
    return student


def _address(part: Part) -> str:
    """Return an address that cannot exist (example.org is kept free for this); children have none of their own."""
    return "" if part.junior else f"{part.name.lower().replace(' ', '.')}@example.org"


def _guardian(student: Student) -> None:
    rng = random.Random(student.name)
    guardian = Guardian.objects.create(
        name=f"{rng.choice(['Ada', 'Milo', 'Runi', 'Tess'])} {student.name.split()[-1]}",
        email=f"guardian{student.pk}@example.org", **FROM_DEMO,
    )
    Guardianship.objects.create(student=student, guardian=guardian, **FROM_DEMO)
    for item in ("lessons", "filming", "keeping", "medical", "messaging"):
        given = timezone.localdate() - timedelta(days=rng.choice([40, 200, 340, 420]) if item == "filming" else 90)
        Consent.objects.create(
            student=student, item=item, given_by_guardian=guardian, given_by_name=guardian.name, given_on=given,
            expires_on=given + timedelta(days=365), **FROM_DEMO,
        )


def _visits(part: Part, student: Student, venue: Venue, device: DataSource | None, seed: int) -> None:
    drills = [
        entry for entry in LibraryEntry.objects.filter(kind="drill")
        if part.player.fault.pattern in entry.data.get("patterns", [])
    ]
    writer = VisitWriter(part=part, student=student, venue=venue, device=device, drills=drills, seed=seed)
    rng = random.Random(seed)
    hour = rng.choice([9, 10, 11, 13, 14, 15, 16])
    for number in range(part.visits):
        days_ago = part.last_visit_days_ago + (part.visits - 1 - number) * part.gap_days
        writer.write(number=number, starts_at=_at(days_ago, hour), is_last=number == part.visits - 1)
    writer.store_balls()
    refresh_standing(student=student)


def _today(parts: list[Part], coach: Coach) -> None:
    """Book today's lessons: six of the scenarios, in the order of the day."""
    due = [part for part in parts if part.hint and part.booked_in_days == 0][:6]
    for slot, part in enumerate(due):
        student = Student.objects.get(name=part.name)
        book_lesson(by=coach, student=student, starts_at=_at(0, 9 + slot), minutes=60, source="demo")
    for part in parts:
        if part.booked_in_days:
            student = Student.objects.get(name=part.name)
            book_lesson(by=student.coach, student=student, starts_at=_at(-part.booked_in_days, 10), source="demo")


def _at(days_ago: int, hour: int) -> datetime:
    day = timezone.localdate() - timedelta(days=days_ago)
    return timezone.make_aware(datetime.combine(day, time(hour)))
