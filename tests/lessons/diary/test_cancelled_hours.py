"""Who is told that an hour is off, by which words, and what stays with those who teach."""

import uuid
from datetime import date

import pytest
import vobject
from django.urls import reverse
from django.utils import timezone

from academy.models import Guardian, Guardianship, Student
from lessons.models import Lesson, MessageText
from lessons.services import classes, diary
from tests import factories

from .hours import at, booked


@pytest.fixture(autouse=True)
def clock(academy):
    with timezone.override("Europe/Dublin"):
        yield


@pytest.fixture
def group(coach):
    """A class of a grown-up with an address, a child with a guardian, and a child with nobody noted."""
    one = classes.open_class(
        by=coach, key=uuid.uuid4(), name="Saturday class", coach=coach, starts_at=at("2030-05-04 10:00"), minutes=60)
    ana = factories.make_student(coach=coach, name="Ana Fen", email="ana@example.org")
    bo = factories.make_student(coach=coach, name="Bo Fen", born_on=date(2020, 1, 1), email="bo@example.org")
    cy = factories.make_student(coach=coach, name="Cy Fen", born_on=date(2020, 1, 1))
    ada = Guardian.objects.create(name="Ada Fen", email="ada@example.org")
    Guardianship.objects.create(guardian=ada, student=bo)
    for student in (ana, bo, cy):
        classes.join_class(by=coach, group=one, student=student)
    return one


def drafts(client, **asked):
    return {one.student.name: one for one in client.get(reverse("lessons:diary_drafts"), asked).context["drafts"]}


def test_thunder_reaches_everybody_of_a_class_with_its_reason(as_coach, coach, group):
    assert drafts(as_coach, **{"class": str(group.code)}) == {}
    classes.cancel_class(by=coach, group=group, reason="weather", note="thunder")
    found = drafts(as_coach, **{"class": str(group.code)})
    assert set(found) == {"Ana Fen", "Bo Fen", "Cy Fen"}
    assert "Saturday class on Saturday 4 May, 10:00, is cancelled: weather, thunder." in found["Ana Fen"].body
    for lesson in Lesson.objects.select_related("booking"):
        assert (lesson.status, lesson.booking.cancel_reason) == ("cancelled", "weather")


def test_a_childs_message_goes_to_the_guardian_and_without_one_there_is_none(as_coach, coach, group, mailoutbox):
    classes.cancel_class(by=coach, group=group, reason="weather")
    found = drafts(as_coach, **{"class": str(group.code)})
    assert found["Bo Fen"].to == ["ada@example.org"] and found["Ana Fen"].to == ["ana@example.org"]
    assert found["Cy Fen"].to == [] and found["Cy Fen"].problem
    assert not mailoutbox


def test_where_nothing_may_be_written_the_guardian_is_rung_and_never_the_child(as_coach, coach, group):
    Guardian.objects.update(email="", phone="0161 496 0000")
    Student.objects.update(phone="07700 900000")
    classes.cancel_class(by=coach, group=group, reason="weather")
    found = drafts(as_coach, **{"class": str(group.code)})
    assert (found["Bo Fen"].ring, found["Cy Fen"].ring, found["Ana Fen"].ring) == ("Ada Fen 0161 496 0000", "", "")
    page = as_coach.get(reverse("lessons:diary_drafts"), {"class": str(group.code)}).content.decode()
    assert "Ring instead: Ada Fen 0161 496 0000." in page and "say it in person" in page


def test_each_childs_calendar_file_takes_the_hour_out(as_coach, coach, group):
    before = {one.pk: one.booking.sequence for one in Lesson.objects.select_related("booking")}
    classes.cancel_class(by=coach, group=group, reason="weather")
    for lesson in Lesson.objects.all():
        answer = as_coach.get(reverse("lessons:booking_file", args=[lesson.code]))
        found = vobject.readOne(answer.content.decode())
        assert (found.method.value, found.vevent.status.value) == ("CANCEL", "CANCELLED")
        assert int(found.vevent.sequence.value) == before[lesson.pk] + 1


def test_a_day_that_goes_for_the_weather_has_its_messages_too(as_coach, coach, student):
    lesson = booked(student, "2030-05-06 10:00")
    booked(factories.make_student(coach=coach, name="Tove Lind"), "2030-05-07 10:00")
    diary.cancel_lesson(by=coach, lesson=lesson, reason="weather")
    assert set(drafts(as_coach, day="2030-05-06")) == {"Edda Marlow"}
    assert drafts(as_coach, day="2030-05-07") == {}


def test_the_academys_own_words_are_used(as_coach, coach, student):
    lesson = booked(student, "2030-05-06 10:00")
    diary.cancel_lesson(by=coach, lesson=lesson, reason="place")
    MessageText.objects.create(cause="off", subject="Off", body="{first_name}, stay at home. {why}")
    assert drafts(as_coach, lesson=str(lesson.code))["Edda Marlow"].body == (
        "Edda, stay at home. The lesson on Monday 6 May, 10:00, is cancelled: the place is closed.")


def test_what_was_written_about_an_illness_stays_with_who_teaches(client, coach, owner, student):
    lesson = booked(student, "2030-05-06 10:00")
    diary.cancel_lesson(by=coach, lesson=lesson, reason="ill", note="hip again")
    address = reverse("lessons:booking", args=[lesson.code])
    for person, reads in ((owner, False), (coach, True)):
        client.force_login(person)
        assert ("hip again" in client.get(address).content.decode()) is reads
        assert "hip" not in drafts(client, lesson=str(lesson.code))["Edda Marlow"].body


@pytest.mark.parametrize("asked", [
    {"class": "x"}, {"lesson": "1"}, {"day": "soon"}, {"day": "9999-12-31"}, {"coach": "me"},
])
def test_an_address_that_makes_no_sense_has_no_messages(as_coach, asked):
    assert drafts(as_coach, **asked) == {}


def test_another_coach_gets_no_messages_of_the_class(client, other_coach, coach, group):
    classes.cancel_class(by=coach, group=group, reason="weather")
    client.force_login(other_coach)
    assert drafts(client, **{"class": str(group.code)}) == {}
