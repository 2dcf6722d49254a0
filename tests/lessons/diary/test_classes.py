"""Classes: places, register, enough adults, and cancelled for everybody at once."""

import uuid
from datetime import date

import pytest
from django.core.exceptions import ValidationError
from django.urls import reverse
from django.utils import timezone

from academy.models import Academy
from lessons.models import Lesson, Waiting
from lessons.queries.bookings import ratio
from lessons.services import classes as service
from lessons.services.diary import undo_booking, wait_for
from lessons.services.packages import sell_package
from tests import factories

from .hours import at


@pytest.fixture
def group(coach):
    return service.open_class(
        by=coach, key=uuid.uuid4(), name="Saturday class", coach=coach, starts_at=at("2026-05-02 10:00"), minutes=60,
        capacity=3,
    )


@pytest.fixture
def three(coach, group):
    people = [factories.make_student(coach=coach, name=name) for name in ("Ana Fen", "Bo Fen", "Cy Fen")]
    for one in people:
        service.join_class(by=coach, group=group, student=one)
    return people


def statuses() -> list[str]:
    return list(Lesson.objects.order_by("student__name").values_list("status", flat=True))


def test_each_student_gets_a_lesson_of_the_classs_hour(group, three):
    lessons = Lesson.objects.filter(booking__group=group)
    assert {(one.kind, one.starts_at) for one in lessons} == {("group", group.starts_at)} and len(lessons) == 3


def test_nobody_joins_twice_and_nobody_a_full_class(coach, group, three):
    with pytest.raises(ValidationError, match="in this class already"):
        service.join_class(by=coach, group=group, student=three[0])
    with pytest.raises(ValidationError, match="All 3 places are taken. Put Di on the waiting list"):
        service.join_class(by=coach, group=group, student=factories.make_student(coach=coach, name="Di Fen"))


def test_who_waited_for_a_place_waits_no_more_once_in(coach, group):
    student = factories.make_student(coach=coach, name="Di Fen")
    for _ in ("first", "again"):
        wait_for(by=coach, student=student, coach=coach, group=group)
    service.join_class(by=coach, group=group, student=student)
    assert [row.ended_on is not None for row in Waiting.objects.all()] == [True]


def test_the_register_says_who_came_and_only_they_use_a_lesson(as_coach, coach, group, three):
    packages = [
        sell_package(by=coach, student=one, key=uuid.uuid4(), name="Five", lessons=5, starts_on=date(2026, 1, 1))
        for one in three
    ]
    came = [str(one.lessons.get().code) for one in three[:2]]
    as_coach.post(reverse("lessons:class_register", args=[group.code]), {"came": came})
    assert statuses() == ["finished", "finished", "no_show"]
    assert [package.balance() for package in packages] == [4, 4, 5]
    as_coach.post(reverse("lessons:class_register", args=[group.code]), {"came": [came[0]]})
    assert [package.balance() for package in packages] == [4, 5, 5], "a wrong tick is given back"


def test_a_class_is_cancelled_for_everybody_in_one_step_and_comes_back_in_one(coach, group, three):
    assert service.cancel_class(by=coach, group=group, reason="weather", note="thunder") == 3
    assert statuses() == ["cancelled"] * 3
    undo_booking(by=coach, code=group.code)
    group.refresh_from_db()
    assert statuses() == ["planned"] * 3 and group.status == "planned"


def test_a_cancelled_class_takes_nobody_and_has_no_register(coach, group, three):
    service.cancel_class(by=coach, group=group, reason="weather")
    with pytest.raises(ValidationError, match="cancelled"):
        service.join_class(by=coach, group=group, student=factories.make_student(coach=coach, name="Di Fen"))
    with pytest.raises(ValidationError, match="nobody can have come"):
        service.keep_register(by=coach, group=group, present=set())


@pytest.mark.parametrize(("children", "adults", "helpers", "enough"), [
    (8, 0, 0, True), (9, 0, 0, False), (9, 0, 1, True), (0, 10, 0, True), (0, 11, 0, False), (1, 8, 0, False),
])
def test_the_house_asks_for_more_adults_where_children_are_among_them(
    coach, group, children, adults, helpers, enough
):
    group.helpers = helpers
    born = [date(2016, 6, 1)] * children + [date(1980, 6, 1)] * adults
    students = [factories.make_student(coach=coach, name=f"Student {i}", born_on=day) for i, day in enumerate(born)]
    lessons = [Lesson(student=student, starts_at=group.starts_at) for student in students]
    assert ratio(group, lessons)["enough"] is enough


def test_the_local_policy_sets_the_ratio(coach, group):
    Academy.objects.update(house_rules={"students_per_adult": 4})
    lessons = [Lesson(student=factories.make_student(coach=coach, name=f"Student {i}")) for i in range(5)]
    found = ratio(group, lessons)
    assert (found["needed"], found["enough"]) == (2, False)


def test_the_page_says_when_adults_are_missing(as_coach, coach, group, three):
    Academy.objects.update(house_rules={"students_per_adult": 2})
    page = as_coach.get(reverse("lessons:class_page", args=[group.code])).content.decode()
    assert "Not enough adults noted" in page and "one adult to 2, so 2; 1 noted" in page


def test_another_coach_gets_no_register(client, other_coach, group):
    client.force_login(other_coach)
    assert client.get(reverse("lessons:class_page", args=[group.code])).status_code == 404


def test_today_shows_a_class_once_and_not_every_child(as_coach, coach, group, three):
    now = timezone.now()
    Lesson.objects.update(starts_at=now)
    type(group).objects.update(starts_at=now)
    page = as_coach.get(reverse("lessons:today"))
    assert page.context["briefs"] == [] and page.context["classes"] == [group]
    assert "Saturday class" in page.content.decode()
