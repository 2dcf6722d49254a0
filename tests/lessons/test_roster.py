"""The roster: each number against a small academy counted by hand."""

from datetime import timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from lessons.models import Block, Lesson
from lessons.queries.roster import DEFINITIONS, roster_rows
from lessons.services.standing import refresh_standing
from tests import factories


def visit(student, *, days_ago: int, first_ten: bool = True, **values) -> Lesson:
    """Store a finished lesson that began with ten balls, as a first ten or after advice."""
    lesson = factories.make_lesson(student=student, days_ago=days_ago, status=Lesson.Status.FINISHED, **values)
    purpose = Block.Purpose.FIRST_TEN if first_ten else Block.Purpose.NO_AID
    block = factories.make_block(lesson=lesson, purpose=purpose, feedback_shown=False)
    factories.add_balls(block=block, club_path_deg=[float(i % 3) for i in range(10)])
    return lesson


@pytest.fixture
def small_academy(coach, other_coach):
    """Five students of two coaches, each for one question."""
    today = timezone.localdate()
    regular = factories.make_student(coach=coach, name="Regular")
    for days_ago in (40, 26, 12):
        visit(regular, days_ago=days_ago)
    factories.make_lesson(student=regular, days_ago=-3, status=Lesson.Status.PLANNED)
    late = factories.make_student(coach=coach, name="Late")
    visit(late, days_ago=40, next_date=today - timedelta(days=26))
    gone = factories.make_student(coach=other_coach, name="Gone")
    for days_ago in (120, 106, 92):
        visit(gone, days_ago=days_ago, first_ten=days_ago != 106)
    hurt = factories.make_student(coach=coach, name="Hurt", status="paused", pause_reason="injury")
    visit(hurt, days_ago=70, next_date=today - timedelta(days=50))
    factories.make_student(coach=other_coach, name="New")
    for student in (regular, late, gone, hurt):
        refresh_standing(student=student)


def names(rows, key: str) -> set[str]:
    definition = DEFINITIONS[key]
    return {row.student.name for row in rows if definition.out_of(row) and definition.counts(row)}


@pytest.mark.parametrize(("key", "expected"), [
    ("active", {"Regular", "Late"}),
    ("overdue", {"Late", "Gone"}),
    ("unbooked", {"Late", "Gone", "New"}),
    ("paused", {"Hurt"}),
    ("first_ten", {"Gone"}),
    ("slipped", set()),
])
def test_each_number_counts_whom_its_definition_says(small_academy, owner, key, expected):
    assert names(roster_rows(coach=owner), key) == expected


def test_a_paused_student_is_never_overdue(small_academy, owner):
    row = next(row for row in roster_rows(coach=owner) if row.student.name == "Hurt")
    assert row.overdue_because == ""


def test_being_overdue_comes_with_its_reason(small_academy, owner):
    reasons = {row.student.name: row.overdue_because for row in roster_rows(coach=owner) if row.overdue_because}
    assert "26 days ago" in reasons["Late"]
    assert reasons["Gone"] == "92 days away; usually every 14"


def test_overdue_begins_the_day_after_the_week_of_grace(coach, owner):
    student = factories.make_student(coach=coach)
    visit(student, days_ago=30, next_date=timezone.localdate() - timedelta(days=7))
    refresh_standing(student=student)
    assert not roster_rows(coach=owner)[0].overdue_because
    tomorrow = timezone.localdate() + timedelta(days=1)
    assert roster_rows(coach=owner, today=tomorrow)[0].overdue_because


def test_a_coach_sees_the_own_part_only(small_academy, coach):
    assert {row.student.name for row in roster_rows(coach=coach)} == {"Regular", "Late", "Hurt"}


def test_the_roster_takes_two_queries_however_many_students(small_academy, owner):
    with CaptureQueriesContext(connection) as few:
        roster_rows(coach=owner)
    for i in range(20):
        student = factories.make_student(coach=owner, name=f"More {i}")
        visit(student, days_ago=10)
        refresh_standing(student=student)
    with CaptureQueriesContext(connection) as many:
        assert len(roster_rows(coach=owner)) == 25
    assert len(few) == len(many) == 2


def test_each_number_on_the_page_opens_its_list_and_shows_its_definition(small_academy, owner, client):
    client.force_login(owner)
    page = client.get(reverse("lessons:roster")).content.decode()
    for definition in DEFINITIONS.values():
        assert f"?show={definition.key}" in page
        assert definition.formula.split(";")[0][1:40] in page
    listed = client.get(reverse("lessons:roster"), {"show": "overdue"}).content.decode()
    assert "Late" in listed and "Gone" in listed and ">Regular<" not in listed


def test_the_filter_by_coach_stays_in_the_address(small_academy, owner, other_coach, client):
    client.force_login(owner)
    page = client.get(reverse("lessons:roster"), {"coach": str(other_coach.code)}).content.decode()
    assert ">Gone<" in page and ">Late<" not in page
    assert f"coach={other_coach.code}" in page
