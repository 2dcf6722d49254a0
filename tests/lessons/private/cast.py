"""A student with two visits, a drill and a link: what a private page needs."""

from datetime import timedelta

from django.test import Client
from django.utils import timezone

from academy import share
from academy.journal import journal
from academy.models import Guardian, Guardianship
from lessons.models import Block, DrillAssignment, Lesson, Prescription, SetupObservation
from tests import factories

CARD = {
    "name": "Two-stick station", "why": "see aim and ball position", "kit": ["2 sticks"],
    "setup": "one stick outside the ball", "steps": ["pick a target", "lay a stick", "check the ball"],
    "dose": "10 to 20 balls", "pass_mark": "10 setups within 2°", "caution": "stick never in front of the swing",
    "balls": 12, "minutes": 15,
}


PATHS = (5.0, 6.0, 5.5, 6.5, 5.8, 6.1)


def visit(*, student, days_ago, path=PATHS, status=Lesson.Status.FINISHED, **values) -> Lesson:
    """Store a finished visit with a first-ten block of these paths."""
    lesson = factories.make_lesson(
        student=student, days_ago=days_ago, status=status, goal="Start it on the chosen side",
        student_note="Same feel as last time.", **values,
    )
    ten = factories.make_block(lesson=lesson, purpose=Block.Purpose.FIRST_TEN)
    factories.add_balls(block=ten, club_path_deg=list(path))
    return lesson


def written(row, *, student):
    """Store a row through the journal, as every service does: what pages keep rests on it."""
    with journal(by=None, student=student, sentence="Written in a test") as entry:
        entry.create(row)
    return row


def change(*, lesson, **values) -> Prescription:
    whole = {"change": "Feet from 7° closed to 3° closed", "cue": "toes on the railway line",
             "stop_sign": "the ball starts left and stays there", "checkpoint": "feet_deg", **values}
    return written(Prescription(lesson=lesson, **whole), student=lesson.student)


def drill(*, student, lesson=None, **values) -> DrillAssignment:
    since = timezone.localdate() - timedelta(days=5)
    whole = {"drill": "two-stick-station", "card": CARD, "starts_on": since, **values}
    return DrillAssignment.objects.create(student=student, lesson=lesson, **whole)


def setup(*, lesson, **values) -> None:
    for checkpoint, value in values.items():
        row = SetupObservation(
            lesson=lesson, category="driver", checkpoint=checkpoint, value=value, phase="after")
        written(row, student=lesson.student)


def guardian_of(student, name="Tess Marlow") -> Guardian:
    guardian = Guardian.objects.create(name=name, email="tess@example.org")
    Guardianship.objects.create(student=student, guardian=guardian)
    return guardian


def token_for(student, **values) -> str:
    return share.issue_link(student=student, by=student.coach, **values)[1]


def holder_of(student, client: Client | None = None, **values) -> Client:
    """Return a browser that has exchanged a link of this student."""
    client = client or Client()
    response = client.post(f"/p/{token_for(student, **values)}/", {"open": "1"})
    assert response.status_code == 302, response.content
    return client


def whole_story(student) -> tuple[Lesson, DrillAssignment]:
    """Store two visits, the change, a setup and a drill."""
    first = visit(student=student, days_ago=30)
    last = visit(student=student, days_ago=3, path=(3.0, 3.5, 2.5, 3.2, 2.8, 3.0), next_measure="ten drives, no aids")
    aided = factories.make_block(lesson=last, purpose=Block.Purpose.WITH_AID, aids=["sticks"])
    factories.add_balls(block=aided, club_path_deg=[2.0, 2.1, 1.9, 2.2, 1.8])
    plain = factories.make_block(lesson=last, purpose=Block.Purpose.NO_AID)
    factories.add_balls(block=plain, club_path_deg=[5.4, 5.5, 5.3, 5.6])
    change(lesson=first)
    setup(lesson=first, feet_deg=3.0, shoulders_deg=1.0, ball_position_cm=2.0, stance_width_ratio=1.1)
    return last, drill(student=student, lesson=last)
