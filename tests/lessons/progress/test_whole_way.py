"""A new player's visits as a coach makes them, press by press: what the desk lays out must be what can be compared."""

import uuid
from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from lessons.models import Lesson
from lessons.queries.held import held_for
from lessons.services import lessons as service
from lessons.summaries import refresh
from tests import factories
from tests.lessons.progress.records import balls, prescribe, text_of


@pytest.fixture(params=["right", "left"])
def newcomer(request, student):
    student.hand, student.handicap_index = request.param, 9.0
    student.save()
    return student


def begin(client, student):
    """Press “Begin a lesson now” and return the lesson with its first block, to be hit with numbers."""
    form = {"key": str(uuid.uuid4()), "student": str(student.code), "minutes": "60"}
    client.post(reverse("lessons:lesson_book"), form)
    lesson = Lesson.objects.get(student=student, status=Lesson.Status.RUNNING)
    return lesson, lesson.blocks.get()


def end(coach, lesson, *, days_ago: int) -> None:
    """Finish the lesson and lay it back by some days."""
    service.finish_lesson(by=coach, lesson=lesson, next_date=None, next_measure="")
    Lesson.objects.filter(pk=lesson.pk).update(starts_at=timezone.now() - timedelta(days=days_ago))


def hit(block, mean: float) -> None:
    factories.add_balls(block=block, club_path_deg=balls(mean, 1.8, 10))
    refresh(block)


def test_the_first_block_of_a_first_visit_can_be_compared_with_every_later_first_ten(as_coach, coach, newcomer):
    lesson, first = begin(as_coach, newcomer)
    hit(first, 5.7)
    prescribe(first)
    as_coach.post(reverse("lessons:block_next", args=[first.code]), {"change": "same"})
    after = lesson.blocks.latest("pk")
    assert (after.purpose, after.feedback_shown) == ("no_aid", True)
    end(coach, lesson, days_ago=30)
    for days_ago in (16, 2):
        lesson, ten = begin(as_coach, newcomer)
        assert ten.purpose == "first_ten"
        hit(ten, 1.0)
        end(coach, lesson, days_ago=days_ago)
    found = held_for(student=newcomer)
    assert found.code == "established", found.sentence
    assert "Established" in text_of(as_coach, newcomer)
