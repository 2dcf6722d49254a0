"""Today: what the coach reads in the ten minutes before a lesson, and how a lesson begins."""

import uuid
from datetime import date, timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from academy.models import Goal, HealthFlag
from lessons.models import (
    Block,
    DrillAssignment,
    Finding,
    Lesson,
    PracticeEntry,
    Prescription,
    StudentMessage,
)
from tests import factories


@pytest.fixture
def noon():
    return timezone.localtime().replace(hour=12, minute=0, second=0, microsecond=0)


def visit(student, *, at):
    """A finished visit with all that the next brief needs."""
    lesson = factories.make_lesson(
        student=student, status=Lesson.Status.FINISHED, next_measure="Ten driver balls, no aids"
    )
    Lesson.objects.filter(pk=lesson.pk).update(starts_at=at)
    lesson.refresh_from_db()
    block = factories.make_block(lesson=lesson, purpose=Block.Purpose.FIRST_TEN)
    finding = Finding.objects.create(
        lesson=lesson, block=block, pattern="over_draw", title="Path too far out", state="supported"
    )
    Prescription.objects.create(lesson=lesson, finding=finding, change="Feet from 6° to 2°", cue="toes on the rail")
    drill = DrillAssignment.objects.create(
        student=student, lesson=lesson, drill="gate", card={"name": "Gate walk"}, starts_on=at.date()
    )
    PracticeEntry.objects.create(
        student=student, assignment=drill, key=uuid.uuid4(), practised_at=at + timedelta(days=1), minutes=15
    )
    return lesson


def book(student, noon, **values):
    return Lesson.objects.create(
        student=student, coach=student.coach, starts_at=noon, status=Lesson.Status.PLANNED, **values
    )


def read(client):
    return client.get(reverse("lessons:today"))


def test_the_brief_has_what_was_found_changed_given_and_practised(as_coach, student, noon):
    visit(student, at=noon - timedelta(days=9))
    book(student, noon)
    Goal.objects.create(student=student, kind="process", text="Aim routine 8 of 10")
    text = read(as_coach).content.decode()
    for said in ("Path too far out", "Feet from 6° to 2°", "toes on the rail", "Gate walk", "1 time, 15 minutes",
                 "Aim routine 8 of 10", "Ten driver balls, no aids"):
        assert said in text, said


def test_practice_before_the_last_visit_is_not_counted_again(as_coach, student, noon):
    visit(student, at=noon - timedelta(days=20))
    second = visit(student, at=noon - timedelta(days=5))
    book(student, noon)
    brief = read(as_coach).context["briefs"][0]
    assert brief.last == second and len(brief.practised) == 1


def test_lessons_stand_in_the_order_of_the_day(as_coach, coach, noon):
    for name, hours in (("Late", 3), ("Early", -2), ("Mid", 0)):
        book(factories.make_student(coach=coach, name=name), noon + timedelta(hours=hours))
    book(factories.make_student(coach=coach, name="Tomorrow"), noon + timedelta(days=1))
    page = read(as_coach)
    assert [brief.lesson.student.name for brief in page.context["briefs"]] == ["Early", "Mid", "Late"]
    assert [lesson.student.name for lesson in page.context["coming"]] == ["Tomorrow"]


def test_pain_is_shown_to_the_students_own_coach_and_not_to_a_stand_in(client, coach, other_coach, student, noon):
    HealthFlag.objects.create(student=student, area="low_back", severity=5, reported_at=noon)
    lesson = book(student, noon)
    lesson.coach = other_coach
    lesson.save()
    client.force_login(coach)
    assert "Low back 5 of 10" in read(client).content.decode()
    client.force_login(other_coach)
    stand_in = read(client).content.decode()
    assert student.name in stand_in and "Low back" not in stand_in


def test_another_coachs_day_is_not_shown(client, other_coach, student, noon):
    book(student, noon)
    client.force_login(other_coach)
    assert read(client).context["briefs"] == []


def test_unanswered_messages_wait_on_the_page(as_coach, student, noon):
    for text, answered in (("Does the towel stay?", None), ("Old one", noon)):
        StudentMessage.objects.create(
            student=student, key=uuid.uuid4(), text=text, sent_at=noon, answered_at=answered
        )
    text = read(as_coach).content.decode()
    assert "Does the towel stay?" in text and "Old one" not in text


def test_the_number_of_queries_does_not_grow_with_the_day(
    as_coach, coach, noon, django_assert_max_num_queries, django_assert_num_queries
):
    def fill(count):
        for number in ["x"] * count:
            student = factories.make_student(coach=coach, name=f"Student {number}")
            visit(student, at=noon - timedelta(days=9))
            book(student, noon)

    fill(1)
    with django_assert_max_num_queries(25) as one:
        read(as_coach)
    fill(8)
    with django_assert_num_queries(len(one)):
        read(as_coach)


def test_starting_lays_the_first_ten_out_and_copies_the_conditions(as_coach, student, noon):
    visit(student, at=noon - timedelta(days=9))
    lesson = book(student, noon)
    answer = as_coach.post(reverse("lessons:lesson_start", args=[lesson.code]))
    assert answer.status_code == 302 and str(lesson.code) in answer["Location"]
    block = lesson.blocks.get()
    assert (block.purpose, block.aids, block.feedback_shown, block.wanted_balls) == ("first_ten", [], False, 10)
    assert block.club_name == "Driver"


def test_starting_twice_lays_one_block_out(as_coach, student, noon):
    lesson = book(student, noon)
    for _ in ("first", "again"):
        as_coach.post(reverse("lessons:lesson_start", args=[lesson.code]))
    assert lesson.blocks.count() == 1


def test_booking_without_a_moment_begins_at_once(as_coach, student):
    key = str(uuid.uuid4())
    values = {"key": key, "student": str(student.code), "minutes": "60"}
    for _ in ("first", "again"):
        answer = as_coach.post(reverse("lessons:lesson_book"), values)
        assert answer["Location"].startswith(f"/lessons/{key}/")
    lesson = Lesson.objects.get()
    assert lesson.status == Lesson.Status.RUNNING and lesson.blocks.count() == 1


def test_a_moment_is_read_by_the_academys_clock(as_coach, student):
    as_coach.post(reverse("lessons:lesson_book"), {
        "key": str(uuid.uuid4()), "student": str(student.code), "minutes": "60", "starts_at": "2030-07-01T10:30",
    })
    starts_at = Lesson.objects.get().starts_at
    assert starts_at.isoformat() == "2030-07-01T09:30:00+00:00"  # Europe/Dublin, summer time


def test_an_hour_that_the_clock_change_skips_is_asked_back(as_coach, student):
    answer = as_coach.post(reverse("lessons:lesson_book"), {
        "key": str(uuid.uuid4()), "student": str(student.code), "minutes": "60", "starts_at": "2030-03-31T01:30",
    })
    assert answer.status_code == 422 and not Lesson.objects.exists()


def test_a_coach_cannot_book_somebody_elses_student(client, other_coach, student):
    client.force_login(other_coach)
    answer = client.post(
        reverse("lessons:lesson_book"), {"key": str(uuid.uuid4()), "student": str(student.code), "minutes": "60"}
    )
    assert answer.status_code == 422 and not Lesson.objects.exists()


def test_a_lesson_left_open_yesterday_is_offered_to_be_finished(as_coach, student):
    lesson = factories.make_lesson(student=student, days_ago=2)
    assert read(as_coach).context["left_open"] == [lesson]


def test_a_booking_sent_again_for_another_student_is_refused_with_a_sentence(as_coach, student, coach):
    other = factories.make_student(coach=coach, name="Second Student")
    key = str(uuid.uuid4())
    for one in (student, other):
        response = as_coach.post(
            reverse("lessons:lesson_book"),
            {"key": key, "student": str(one.code), "starts_at": "2030-05-01T10:00", "minutes": 60},
        )
    assert response.status_code == 422
    assert "another lesson" in response.content.decode()
    assert Lesson.objects.get().student == student


def test_a_junior_without_the_consent_to_lessons_is_not_booked_either_and_the_way_to_it_is_shown(as_coach, coach):
    child = factories.make_student(coach=coach, name="Ilya Reed", born_on=date(timezone.localdate().year - 11, 1, 1))
    form = {"key": str(uuid.uuid4()), "student": str(child.code), "minutes": "60"}
    answer = as_coach.post(reverse("lessons:lesson_book"), form, follow=True)
    assert answer.redirect_chain[0][0] == reverse("academy:guardians", args=[child.code])
    assert "the lesson can start at once" in answer.content.decode() and not child.lessons.exists()
