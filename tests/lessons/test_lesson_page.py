"""The lesson page as a running order."""

import pytest
from django.urls import reverse

from academy.models import Change
from lessons.stops import STOPS
from tests import factories


@pytest.fixture
def lesson(student):
    return factories.make_lesson(student=student)


def page(client, lesson, query=""):
    return client.get(reverse("lessons:lesson", args=[lesson.code]) + query)


def test_every_stop_stands_on_the_page_in_order(as_coach, lesson):
    text = page(as_coach, lesson).content.decode()
    places = [text.index(f'id="stop-{slug}"') for slug in STOPS]
    assert places == sorted(places)
    assert list(STOPS) == ["greet", "first_ten", "look", "reason", "change", "with_aids", "without", "agree"]


def test_the_wanted_stop_is_open_and_the_others_are_shut(as_coach, lesson):
    order = page(as_coach, lesson, "?stop=change").context["order"]
    assert [stop["slug"] for stop in order if stop["open"]] == ["change"]


def test_the_first_stop_that_is_not_done_is_open(as_coach, lesson):
    lesson.done_stops = ["greet", "first_ten"]
    lesson.save()
    order = page(as_coach, lesson).context["order"]
    assert [stop["slug"] for stop in order if stop["open"]] == ["look"]


def test_ticking_a_stop_off_can_be_taken_back(as_coach, lesson):
    url = reverse("lessons:stop_done", args=[lesson.code, "look"])
    assert as_coach.post(url, {"done": "yes"}).status_code == 302
    lesson.refresh_from_db()
    assert lesson.done_stops == ["look"]
    as_coach.post(url, {"done": "no"})
    lesson.refresh_from_db()
    assert lesson.done_stops == []
    assert Change.objects.filter(lesson_code=lesson.code).count() == 2


def test_a_fragment_request_gets_the_stop_alone(as_coach, lesson):
    url = reverse("lessons:stop_done", args=[lesson.code, "look"])
    answer = as_coach.post(url, {"done": "yes"}, headers={"HX-Request": "true"})
    assert answer.status_code == 200
    assert "<html" not in answer.content.decode() and 'id="stop-look"' in answer.content.decode()
    assert "HX-Request" in answer["Vary"]


def test_a_stop_that_does_not_exist_is_a_missing_page(as_coach, lesson):
    assert as_coach.get(reverse("lessons:stop", args=[lesson.code, "tea"])).status_code == 404


def test_another_coach_finds_no_such_lesson(client, other_coach, lesson):
    client.force_login(other_coach)
    assert page(client, lesson).status_code == 404
