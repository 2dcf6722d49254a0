"""After a lesson: given in time, read, practised, asked; and what of it waits on the coach's Today."""

import uuid
from datetime import timedelta

import pytest
from django.utils import timezone

from academy import share
from lessons.models import FollowUp, Lesson, PracticeEntry, StudentMessage
from lessons.queries.followup_facts import facts_of, waiting_after
from tests import factories
from tests.lessons.private import cast


def held(student, *, days_ago=4.0, given_hours=None, channel="mail", read_hours=None):
    """A lesson that ended so many days ago, its sheet given and read so many hours after."""
    end = timezone.now() - timedelta(days=days_ago)
    lesson = factories.make_lesson(student=student, status=Lesson.Status.FINISHED, finished_at=end)
    Lesson.objects.filter(pk=lesson.pk).update(starts_at=end - timedelta(hours=1))
    lesson.refresh_from_db()
    if given_hours is not None:
        sent_at = end + timedelta(hours=given_hours)
        opened_at = None if read_hours is None else end + timedelta(hours=read_hours)
        FollowUp.objects.create(lesson=lesson, channel=channel, sent_at=sent_at, opened_at=opened_at)
    return lesson


def facts(lesson):
    return facts_of(lessons=[lesson])[lesson.pk]


def words(coach):
    return [said for _, said in waiting_after(coach=coach, now=timezone.now())]


@pytest.mark.parametrize(("hours", "in_time"), [(None, False), (0.2, True), (24, True), (24.1, False)])
def test_a_sheet_is_in_time_within_a_day_of_the_end(student, hours, in_time):
    assert facts(held(student, given_hours=hours)).in_time is in_time


def test_a_note_that_only_stands_on_the_page_is_given_when_a_link_opens_it(student, coach):
    lesson = held(student, given_hours=0, channel="link")
    assert facts(lesson).given_at is None
    link, _ = share.issue_link(student=student, by=coach)
    assert facts(lesson).given_at == link.created_at
    share.revoke_link(link=link)
    later = held(student, days_ago=-0.5, given_hours=0, channel="link")
    assert facts(later).given_at is None


def test_practice_counts_from_the_end_of_the_lesson_and_questions_while_they_are_open(student):
    lesson = held(student, given_hours=1)
    for days in (1, 2, 9):
        PracticeEntry.objects.create(
            student=student, key=uuid.uuid4(), practised_at=timezone.now() - timedelta(days=days))
    message = StudentMessage.objects.create(student=student, key=uuid.uuid4(), text="?", sent_at=timezone.now())
    assert (facts(lesson).ticked, facts(lesson).open_questions) == (2, 1)
    message.answered_at = timezone.now()
    message.save()
    assert facts(lesson).open_questions == 0


@pytest.mark.parametrize(("values", "said"), [
    ({"days_ago": 0.1}, "The sheet is not given yet."),
    ({"days_ago": 2}, "The sheet is not given, and a day is over."),
    ({"days_ago": 2, "given_hours": 1}, ""),
    ({"days_ago": 4, "given_hours": 1}, "the page not read since"),
    ({"days_ago": 4, "given_hours": 1, "read_hours": 5}, ""),
    ({"days_ago": 8, "given_hours": 1, "read_hours": 5}, "No practice ticked since."),
    ({"days_ago": 30}, ""),
])
def test_what_waits_is_said_one_thing_at_a_time_and_not_for_ever(student, coach, values, said):
    held(student, **values)
    assert [said in found for found in words(coach)] == ([True] if said else [])


def test_only_the_last_lesson_of_each_own_student_waits(student, coach, other_coach):
    held(student, days_ago=9)
    held(student, days_ago=2, given_hours=1)
    held(factories.make_student(coach=other_coach, name="Somebody Else"), days_ago=2)
    assert words(coach) == []


def test_today_lists_it_and_leads_to_the_sheet(as_coach, student):
    lesson = held(student, days_ago=2)
    page = as_coach.get("/").content.decode()
    assert "After the last lesson" in page and f"/lessons/{lesson.code}/note/" in page


def test_reading_the_private_page_is_what_counts_as_read(student):
    lesson = held(student, given_hours=1)
    cast.holder_of(student).get("/me/")
    assert facts(lesson).read_at is not None


def test_the_facts_cost_the_same_for_one_and_for_ten(coach, django_assert_num_queries):
    for number in range(10):
        held(factories.make_student(coach=coach, name=f"S {number}"), days_ago=2)
    with django_assert_num_queries(5):
        assert len(waiting_after(coach=coach, now=timezone.now())) == 10
