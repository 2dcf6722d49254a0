"""The house rules: who sets them, what follows from them, and what sharing students opens and what it does not."""

import uuid
from dataclasses import fields

import pytest
from django.urls import reverse
from django.utils import timezone

from academy.models import Academy, HealthFlag, Student
from lessons.forms.house import HouseForm
from lessons.house import House, house
from lessons.models import Lesson
from tests import factories

RULES = {"travel_minutes": "35", "late_cancel_hours": "48", "children_per_adult": "6", "students_per_adult": "9",
         "silent_days": "14", "clubs_checked_months": "12", "first_hour": "7", "last_hour": "21", "currency": "GBP"}


def share(on: bool = True) -> None:
    Academy.objects.update(house_rules={"students_shared": on})


def test_every_rule_of_the_house_can_be_set():
    assert set(HouseForm.base_fields) == {one.name for one in fields(House)} | {"currency"}


def test_an_owner_sets_the_rules_and_they_hold_at_once(client, owner):
    client.force_login(owner)
    assert client.get(reverse("lessons:house")).context["form"].initial["travel_minutes"] == House().travel_minutes
    Academy.objects.update(house_rules={"keeping": {"messages": 90}})
    assert client.post(reverse("lessons:house"), {**RULES, "students_shared": "on"}).status_code == 302
    found = house()
    assert (found.travel_minutes, found.students_per_adult, found.first_hour) == (35, 9, 7)
    assert found.students_shared and Academy.objects.get().house_rules["keeping"] == {"messages": 90}


@pytest.mark.parametrize(("wrong", "said"), [
    ({"last_hour": "7"}, "7 is not after 7"), ({"currency": "euro"}, "Three capital letters"),
    ({"travel_minutes": "0"}, "greater than or equal to 1"),
])
def test_a_rule_that_makes_no_sense_is_asked_back(client, owner, wrong, said):
    client.force_login(owner)
    answer = client.post(reverse("lessons:house"), {**RULES, **wrong})
    assert answer.status_code == 422 and said in answer.content.decode()
    assert Academy.objects.get().house_rules == {}


def test_a_coach_sets_no_rules(as_coach):
    assert as_coach.post(reverse("lessons:house"), RULES).status_code == 404


@pytest.mark.parametrize("shared", [False, True])
def test_a_colleagues_student_is_found_only_where_the_academy_shares(client, other_coach, student, shared):
    share(shared)
    client.force_login(other_coach)
    assert (student in Student.objects.shown_to(other_coach)) is shared
    assert (student.name in client.get(reverse("academy:students")).content.decode()) is shared
    assert client.get(reverse("lessons:student", args=[student.code])).status_code == (200 if shared else 404)


def test_being_found_opens_no_notes_no_health_and_nothing_that_is_written(client, other_coach, student):
    share()
    lesson = factories.make_lesson(student=student, status="finished", days_ago=3)
    Lesson.objects.update(private_note="afraid of water", student_note="soft hands")
    Student.objects.update(notes="owes a call")
    HealthFlag.objects.create(
        student=student, area="hip", severity=6, text="sharp in the hip", reported_at=timezone.now())
    client.force_login(other_coach)
    text = client.get(reverse("lessons:student", args=[student.code])).content.decode()
    assert not [word for word in ("afraid of water", "soft hands", "owes a call", "hip") if word in text]
    for name in ("academy:health", "academy:erase", "lessons:student_packages", "lessons:progress"):
        assert client.get(reverse(name, args=[student.code])).status_code == 404, name
    assert client.get(reverse("lessons:lesson", args=[lesson.code])).status_code == 404


def test_a_stand_in_books_a_colleagues_student(client, other_coach, student):
    share()
    client.force_login(other_coach)
    answer = client.post(reverse("lessons:diary_book"), {
        "key": str(uuid.uuid4()), "student": str(student.code), "starts_at": "2030-05-01T10:00", "minutes": "60",
        "coach": str(other_coach.code), "kind": "lesson", "times": "1", "every": "1"})
    assert answer.status_code == 302 and Lesson.objects.get().coach == other_coach


def test_a_student_belongs_to_no_colleagues_figures(client, other_coach, student):
    share()
    client.force_login(other_coach)
    for name in ("lessons:roster", "lessons:figures", "lessons:monday"):
        assert student.name not in client.get(reverse(name)).content.decode()


def test_who_does_not_teach_finds_nobody(student):
    share()
    welfare = factories.make_coach("welfare", is_coach=False, is_welfare_lead=True)
    assert not Student.objects.shown_to(welfare).exists()
