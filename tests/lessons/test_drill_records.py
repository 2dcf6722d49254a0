"""What followed a drill in the academy: consenting students only, silent below twenty, never by coach."""

from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from academy.models import Consent
from lessons.library import load_shipped
from lessons.models import DrillAssignment, Finding, Lesson
from lessons.queries.drill_records import drill_records
from tests import factories

TEN = (0.2, -1.6, 1.0, -0.7, 0.5, -0.1, 1.6, -1.0, 0.7, -0.6)
TODAY = timezone.localdate


def taught(coach, *, name: str, before: float, after: float, consents: bool = True) -> None:
    """Store a student who was given a drill for a path too far out, and began the next visit with a first ten."""
    student = factories.make_student(coach=coach, name=name)
    if consents:
        Consent.objects.create(
            student=student, item="statistics", given_by_name=name, given_on=TODAY() - timedelta(days=60),
            expires_on=TODAY() + timedelta(days=300),
        )
    for days_ago, mean in ((30, before), (10, after)):
        lesson = factories.make_lesson(student=student, days_ago=days_ago, status=Lesson.Status.FINISHED)
        block = factories.make_block(lesson=lesson, purpose="first_ten", intent="draw", feedback_shown=False)
        factories.add_balls(block=block, club_path_deg=[mean + ball for ball in TEN])
        if days_ago == 30:
            Finding.objects.create(lesson=lesson, block=block, pattern="over_draw", title="Out", state="hint")
            DrillAssignment.objects.create(
                student=student, lesson=lesson, drill="two-stick-station", starts_on=TODAY()
            )


@pytest.fixture
def twenty(coach):
    for i in range(20):
        taught(coach, name=f"Student {i}", before=6.0, after=4.5 - 0.1 * (i % 5))


def test_from_twenty_students_on_the_gain_toward_the_window_is_shown_shrunken(twenty):
    record, = drill_records(pattern="over_draw")
    assert (record.n, record.drill) == (20, "two-stick-station")
    # Nearer by 6.0 − 4.3 = 1.7 on average (5 different ends, four students each), counted to the window's edge at 4.
    assert record.mean == pytest.approx(1.7)
    assert 0 < record.shrunken < record.mean


def test_nineteen_students_are_not_enough(coach):
    for i in range(19):
        taught(coach, name=f"Student {i}", before=6.0, after=4.5)
    record, = drill_records(pattern="over_draw")
    assert record.mean is None and "19 of 20" in record.sentence


def test_who_did_not_allow_it_is_not_counted(twenty, coach):
    taught(coach, name="Private", before=6.0, after=20.0, consents=False)
    assert drill_records(pattern="over_draw")[0].n == 20


def test_the_pattern_page_shows_it_without_naming_anybody(twenty, as_coach):
    load_shipped()
    page = as_coach.get(reverse("lessons:library_pattern", args=["over_draw"])).content.decode()
    section = page[page.index("records-title"):page.index("never by coach")]
    assert "20 students: a gain followed" in section
    assert "Student 3" not in section


def test_without_a_record_the_page_says_so(as_coach):
    load_shipped()
    assert "Nothing yet" in as_coach.get(reverse("lessons:library_pattern", args=["slice"])).content.decode()
