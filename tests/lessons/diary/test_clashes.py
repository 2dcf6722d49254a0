"""What speaks against an hour, each rule at its edge."""

from datetime import time

import pytest
from django.utils import timezone

from academy.models import Academy, Venue
from lessons.models import GroupClass, WorkingHours
from lessons.queries.clashes import Slot, warnings
from lessons.services.diary import cancel_lesson
from tests import factories

from .hours import at, booked


@pytest.fixture(autouse=True)
def clock(academy):
    with timezone.override("Europe/Dublin"):
        yield


@pytest.fixture
def range_(db):
    return Venue.objects.create(name="Saltmarsh range")


@pytest.fixture
def studio(db):
    return Venue.objects.create(name="Winter studio")


def said(coach, text, minutes=60, *, viewer=None, moving=(), **values) -> list[str]:
    slot = Slot(coach=coach, starts_at=at(text), minutes=minutes, **values)
    return warnings(slot=slot, viewer=viewer or coach, moving=moving)


@pytest.mark.parametrize(("hour", "clashes"), [
    ("09:00", False), ("09:01", True), ("10:00", True), ("10:59", True), ("11:00", False),
])
def test_hours_that_only_touch_do_not_clash(coach, student, hour, clashes):
    booked(student, "2030-05-01 10:00")
    assert bool(said(coach, f"2030-05-01 {hour}")) is clashes


def test_a_cancelled_hour_is_free_again(coach, student):
    lesson = booked(student, "2030-05-01 10:00")
    cancel_lesson(by=coach, lesson=lesson, reason="ill")
    assert said(coach, "2030-05-01 10:00") == []


def test_the_lesson_that_moves_is_not_in_its_own_way(coach, student):
    lesson = booked(student, "2030-05-01 10:00")
    assert said(coach, "2030-05-01 10:30", moving=[lesson], student=student) == []


def test_a_student_cannot_be_with_two_coaches_at_once(coach, other_coach, student):
    booked(student, "2030-05-01 10:00")
    assert "is booked already" in said(other_coach, "2030-05-01 10:30", student=student)[0]


def test_a_bay_holds_one_lesson_and_another_coachs_student_is_not_named(coach, other_coach, student, range_):
    booked(student, "2030-05-01 10:00", venue=range_, bay="4")
    found = said(other_coach, "2030-05-01 10:30", venue=range_, bay="4")
    assert found == ["Bay 4 at Saltmarsh range is taken then, 10:00–11:00."]
    assert said(other_coach, "2030-05-01 10:30", venue=range_, bay="5") == []


@pytest.mark.parametrize(("hour", "too_short"), [("11:19", True), ("11:20", False)])
def test_the_way_to_another_place_takes_its_minutes(coach, student, range_, studio, hour, too_short):
    booked(student, "2030-05-01 10:00", venue=range_)
    found = said(coach, f"2030-05-01 {hour}", venue=studio)
    assert bool(found) is too_short
    assert said(coach, "2030-05-01 11:00", venue=range_) == []


def test_the_house_sets_the_minutes_of_the_way(coach, student, range_, studio):
    Academy.objects.update(house_rules={"travel_minutes": 45})
    booked(student, "2030-05-01 10:00", venue=range_)
    assert "30 minutes for a way of 45" in said(coach, "2030-05-01 11:30", venue=studio)[0]


def test_a_class_takes_its_coachs_hour_even_while_nobody_is_in_it(coach):
    GroupClass.objects.create(name="Saturday class", coach=coach, starts_at=at("2030-05-04 10:00"))
    assert "Saturday class" in said(coach, "2030-05-04 10:30")[0]


def test_an_hour_outside_the_working_hours_is_said(coach):
    WorkingHours.objects.create(coach=coach, weekday=2, opens=time(9), closes=time(17))
    assert said(coach, "2030-05-01 16:00") == []  # a Wednesday
    assert "does not work then" in said(coach, "2030-05-01 16:30")[0]
    assert "does not work then" in said(coach, "2030-05-02 10:00")[0]


def test_across_the_long_night_an_hour_is_still_one_hour(coach, student):
    # 25 October 2026: the clocks of Dublin go from 02:00 back to 01:00.
    booked(student, "2026-10-25 00:30", minutes=60)  # until the first 01:30
    assert said(coach, "2026-10-25 02:00") == []
    assert said(coach, "2026-10-25 01:00") != []


def test_nothing_is_asked_more_often_for_a_fuller_day(coach, django_assert_num_queries):
    for hour in range(9, 17):
        booked(factories.make_student(coach=coach, name=f"Student {hour}"), f"2030-05-01 {hour:02}:00")
    with django_assert_num_queries(4):
        said(coach, "2030-05-01 10:00")
