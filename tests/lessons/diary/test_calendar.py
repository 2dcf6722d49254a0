"""The private calendar address and the student's calendar file, read back by vobject."""

import uuid
from datetime import UTC

import pytest
import time_machine
import vobject
from django.urls import reverse
from django.utils import timezone

from academy import share
from lessons.models import CalendarFeed
from lessons.services import calendar as service
from lessons.services import diary
from tests import factories

from .hours import DUBLIN, at, booked


@pytest.fixture(autouse=True)
def clock(academy):
    with timezone.override("Europe/Dublin"):
        yield


def soon(text: str) -> str:
    return f"{timezone.localdate() + timezone.timedelta(days=10):%Y-%m-%d} {text}"


def events(client, token):
    answer = client.get(reverse("lessons:calendar", args=[token]))
    assert answer.status_code == 200 and answer["Content-Type"].startswith("text/calendar")
    found = vobject.readOne(answer.content.decode())
    return {event.uid.value: event for event in getattr(found, "vevent_list", [])}


def file_of(client, lesson):
    answer = client.get(reverse("lessons:booking_file", args=[lesson.code]))
    return vobject.readOne(answer.content.decode())


def test_the_feed_shows_a_first_name_and_one_letter_and_no_more(client, coach, student):
    student.notes = "hip hurts"
    student.save()
    lesson = booked(student, soon("10:00"))
    event = events(client, service.issue_feed(coach=coach))[f"{lesson.code}@holdfast"]
    assert event.summary.value == "Edda M.: lesson" and event.dtstart.value == lesson.starts_at
    assert "hip" not in event.serialize() and "Marlow" not in event.serialize()


@pytest.mark.parametrize(("first", "hours"), [("2029-10-27 17:00", (16, 17)), ("2029-03-24 17:00", (17, 16))])
def test_the_feed_keeps_the_clock_over_both_nights_of_the_change(client, coach, student, first, hours):
    with time_machine.travel(at(first), tick=False):
        done = diary.book_weekly(by=coach, student=student, key=uuid.uuid4(), starts_at=at(first), times=2,
                                 coach=coach, minutes=60)
        found = events(client, service.issue_feed(coach=coach))
    moments = [found[f"{lesson.code}@holdfast"].dtstart.value for lesson in done.lessons]
    assert [moment.astimezone(UTC).hour for moment in moments] == list(hours)
    assert {moment.astimezone(DUBLIN).hour for moment in moments} == {17}


def test_only_a_digest_of_the_address_is_kept(coach):
    token = service.issue_feed(coach=coach)
    kept = CalendarFeed.objects.get()
    assert token not in (kept.prefix, kept.digest) and len(token) >= 40
    assert kept.digest == share.keyed_digest(purpose="feed", secret=token)


def test_an_ended_a_replaced_and_a_guessed_address_answer_alike(client, coach):
    first = service.issue_feed(coach=coach)
    second = service.issue_feed(coach=coach)
    service.end_feed(coach=coach)
    for token in (first, second, second[:8] + "x" * 40, "nothing", "ü\x00"):
        assert client.get(f"/calendar/{token}/diary.ics").status_code == 404


def test_the_address_is_hidden_in_the_log(client, coach, caplog):
    token = service.issue_feed(coach=coach)
    service.end_feed(coach=coach)
    from academy.redact import HideLinkTokens

    caplog.handler.addFilter(HideLinkTokens())
    client.get(f"/calendar/{token}/diary.ics")
    assert token not in caplog.text and "/calendar/…" in caplog.text


def test_each_change_raises_the_sequence_and_the_uid_stays(as_coach, coach, student):
    lesson = booked(student, "2030-05-01 10:00")
    seen = [file_of(as_coach, lesson).vevent]
    diary.move_lesson(by=coach, lesson=lesson, starts_at=at("2030-05-01 11:00"), minutes=60, coach=coach, venue=None)
    seen.append(file_of(as_coach, lesson).vevent)
    diary.cancel_lesson(by=coach, lesson=lesson, reason="ill")
    seen.append(file_of(as_coach, lesson).vevent)
    diary.undo_booking(by=coach, code=lesson.code)
    seen.append(file_of(as_coach, lesson).vevent)
    assert [int(one.sequence.value) for one in seen] == [0, 1, 2, 3], "an undo is a change too"
    assert [one.status.value for one in seen] == ["CONFIRMED", "CONFIRMED", "CANCELLED", "CONFIRMED"]
    assert len({one.uid.value for one in seen}) == 1
    assert seen[3].dtstart.value == at("2030-05-01 11:00")


def test_a_step_that_changes_nothing_for_the_reader_keeps_the_sequence(as_coach, coach, student):
    lesson = booked(student, "2030-05-01 10:00")
    diary.move_lesson(by=coach, lesson=lesson, starts_at=lesson.starts_at, minutes=60, coach=coach, venue=None)
    assert file_of(as_coach, lesson).vevent.sequence.value == "0"


def test_a_cancelled_lesson_is_a_cancellation_for_the_students_calendar(as_coach, coach, student):
    lesson = booked(student, "2030-05-01 10:00")
    diary.cancel_lesson(by=coach, lesson=lesson, reason="ill")
    found = file_of(as_coach, lesson)
    assert (found.method.value, found.vevent.status.value) == ("CANCEL", "CANCELLED")
    assert found.vevent.organizer.params["CN"] == ["Runa Holm"]


def test_a_student_gets_the_own_lesson_only(client, coach, student):
    link, token = share.issue_link(student=student, by=coach)
    client.post(f"/p/{token}/", {"open": "yes"})
    own, other = booked(student, "2030-05-01 10:00"), booked(
        factories.make_student(coach=coach, name="Tove Lind"), "2030-05-01 12:00")
    assert client.get(reverse("lessons:me_booking_file", args=[own.code])).status_code == 200
    assert client.get(reverse("lessons:me_booking_file", args=[other.code])).status_code == 404
