"""The lines of shut stops: as the open stop says them, kept while nothing is written, told to the right reader."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from academy.health import report_pain
from academy.models import HealthFlag
from lessons import access
from lessons.models import Lesson
from lessons.services import lessons as lesson_service
from lessons.services.history import undo_last
from lessons.stops import STOPS, draw_stop, shut_stops
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def lesson(student, coach):
    lesson = factories.make_lesson(student=student, warmed_up=True, pain_asked=True)
    block = factories.make_block(lesson=lesson, purpose="first_ten")
    factories.add_balls(block=block, club_path_deg=[5.0 + i / 10 for i in range(10)], face_angle_deg=[2.0] * 10)
    return access.lesson_for(coach=coach, code=lesson.code)


def lines(lesson, coach) -> dict[str, tuple[str, str]]:
    """Read the lines the way a new request does."""
    found = access.lesson_for(coach=coach, code=lesson.code)
    return {stop["slug"]: (stop["line"], stop["state"]) for stop in shut_stops(found)}


def test_a_shut_stop_says_what_the_open_one_says(lesson, coach):
    said = lines(lesson, coach)
    for slug in STOPS:
        drawn = draw_stop(lesson=access.lesson_for(coach=coach, code=lesson.code), slug=slug, is_open=True)
        assert said[slug] == (drawn["line"], drawn["state"])
    assert said["first_ten"] == ("10 balls", "done")


def test_lines_are_worked_out_once_and_again_when_something_is_written_or_taken_back(lesson, coach):
    first = lines(lesson, coach)
    with CaptureQueriesContext(connection) as kept:
        assert lines(lesson, coach) == first
    assert len(kept) == 3, "the lesson, what it rests on, its blocks"
    lesson_service.mark_stop(by=coach, lesson=lesson, slug="look", title="Look", done=True)
    assert lines(lesson, coach)["look"][1] == "done"
    undo_last(by=coach, lesson=lesson)
    assert lines(lesson, coach) == first


def test_a_ball_changes_the_line_of_its_stop(lesson, coach):
    lines(lesson, coach)
    factories.add_balls(block=lesson.blocks.get(), club_path_deg=[4.0], face_angle_deg=[1.0])
    assert lines(lesson, coach)["first_ten"][0] == "11 balls"


def test_what_happens_in_the_students_record_is_told_too(lesson, coach, student):
    Lesson.objects.filter(pk=lesson.pk).update(played="not played", practised="yes", second_adult="bay 4")
    assert lines(lesson, coach)["greet"][0].startswith("no pain")
    report_pain(by=coach, student=student, area="low_back", severity=5)
    assert lines(lesson, coach)["greet"][0].startswith("pain 5 of 10")


def test_a_coach_of_one_lesson_is_not_told_the_lines_of_the_students_own_coach(lesson, coach, other_coach, student):
    Lesson.objects.filter(pk=lesson.pk).update(
        coach=other_coach, played="not played", practised="yes", second_adult="bay 4"
    )
    HealthFlag.objects.create(
        student=student, area="low_back", severity=3, reported_at=timezone.now(), created_by=coach
    )
    assert "pain 3 of 10" in lines(lesson, coach)["greet"][0]
    assert "pain 3" not in lines(lesson, other_coach)["greet"][0]
    assert "pain 3 of 10" in lines(lesson, coach)["greet"][0]


def test_the_body_of_a_shut_stop_is_one_link_away(as_coach, lesson):
    page = as_coach.get(reverse("lessons:lesson", args=[lesson.code])).content.decode()
    assert 'href="?stop=look#stop-look"' in page and "setup-form" not in page
    assert "setup-form" in as_coach.get(reverse("lessons:lesson", args=[lesson.code]) + "?stop=look").content.decode()
