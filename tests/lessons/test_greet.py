"""The greeting: four taps, pain with its words of care, the conditions of the hour."""

import math
import uuid

import pytest
from django.urls import reverse

from academy.models import Change, HealthFlag, Venue
from lessons.queries.stops import greet
from tests import factories


@pytest.fixture
def lesson(student):
    return factories.make_lesson(student=student)


def tap(client, lesson, **values):
    return client.post(reverse("lessons:greet", args=[lesson.code]), values)


def hurt(client, lesson, key=None, **values):
    whole = {"key": str(key or uuid.uuid4()), "area": "low_back", "severity": "2", **values}
    return client.post(reverse("lessons:pain", args=[lesson.code]), whole)


def test_four_taps_answer_the_four_questions(as_coach, lesson):
    assert greet.context(lesson)["missing"] == ["pain", "warm-up", "played", "practised"]
    for answer in ({"no_pain": "on"}, {"warmed_up": "yes"}, {"played": "9 holes"}, {"practised": "some"}):
        tap(as_coach, lesson, **answer)
    lesson.refresh_from_db()
    lesson.reader = lesson.student.coach
    data = greet.context(lesson)
    assert data["missing"] == []
    assert greet.summary(data) == ("no pain, warmed up, 9 holes, practised: some", "done")


def test_one_tap_leaves_the_other_answers_alone(as_coach, lesson):
    tap(as_coach, lesson, played="18 holes")
    tap(as_coach, lesson, warmed_up="no")
    lesson.refresh_from_db()
    assert (lesson.played, lesson.warmed_up, lesson.practised) == ("18 holes", False, "")


@pytest.mark.parametrize(("values", "stops"), [
    ({"severity": "3"}, False), ({"severity": "4"}, True), ({"severity": "1", "is_new": "on"}, True),
    ({"severity": "0", "red_flag": "on"}, True),
])
def test_pain_of_four_or_new_pain_stops_the_long_game(as_coach, lesson, values, stops):
    factories.make_block(lesson=lesson)
    hurt(as_coach, lesson, **values)
    page = as_coach.get(reverse("lessons:lesson", args=[lesson.code])).content.decode()
    assert ("No long game today" in page) is stops
    assert ("Stop the full swings" in page) is stops


def test_an_emergency_sign_shows_the_academys_own_number_first(as_coach, lesson, academy):
    academy.emergency_number = "999"
    academy.save()
    hurt(as_coach, lesson, red_flag="on")
    page = as_coach.get(reverse("lessons:lesson", args=[lesson.code])).content.decode()
    assert page.index("Call 999 now") < page.index("Stop the full swings")


def test_a_double_click_notes_the_pain_once(as_coach, lesson):
    key = uuid.uuid4()
    for _ in ("first", "again"):
        hurt(as_coach, lesson, key=key)
    assert HealthFlag.objects.count() == 1


def test_the_history_carries_no_health_word(as_coach, lesson):
    hurt(as_coach, lesson, severity="7")
    sentence = Change.objects.get().sentence.lower()
    assert not any(word in sentence for word in ("pain", "back", "7"))


def test_pain_of_eleven_is_refused(as_coach, lesson):
    answer = hurt(as_coach, lesson, severity="11")
    assert answer.status_code == 422 and not HealthFlag.objects.exists()


def test_a_junior_needs_a_second_adult(as_coach, lesson):
    lesson.student.born_on = "2016-03-01"
    lesson.student.save()
    lesson.refresh_from_db()
    assert "second adult" in greet.context(lesson)["missing"]
    tap(as_coach, lesson, second_adult="bay 4")
    lesson.refresh_from_db()
    assert "second adult" not in greet.context(lesson)["missing"]


def keep_header(client, lesson, **values):
    return client.post(reverse("lessons:lesson_header", args=[lesson.code]), values)


@pytest.mark.parametrize(("hand", "cross"), [("right", 1), ("left", -1)])
def test_wind_from_the_left_blows_to_a_right_handers_slice_side(as_coach, lesson, hand, cross):
    lesson.student.hand = hand
    lesson.student.save()
    keep_header(as_coach, lesson, wind_speed="10", wind_from="left")
    lesson.refresh_from_db()
    assert lesson.wind_cross_mps == pytest.approx(cross * 4.4704, abs=1e-3)  # 10 mph
    assert lesson.wind_along_mps == pytest.approx(0, abs=1e-3)
    form = as_coach.get(reverse("lessons:lesson_header", args=[lesson.code])).context["form"]
    assert (form["wind_from"].value(), form["wind_speed"].value()) == ("left", "10")


def test_a_slanting_head_wind_has_both_parts(as_coach, lesson):
    keep_header(as_coach, lesson, wind_speed="10", wind_from="ahead_right")
    lesson.refresh_from_db()
    part = 4.4704 / math.sqrt(2)
    assert (lesson.wind_along_mps, lesson.wind_cross_mps) == pytest.approx((-part, -part), abs=1e-3)


def test_wind_without_a_direction_is_asked_back(as_coach, lesson):
    answer = keep_header(as_coach, lesson, wind_speed="10")
    assert answer.status_code == 422 and "where the wind comes from" in answer.content.decode()


def test_felt_wind_needs_no_number(as_coach, lesson):
    keep_header(as_coach, lesson, is_windy="on")
    lesson.refresh_from_db()
    assert lesson.is_windy and lesson.wind_along_mps is None


def test_a_new_place_is_remembered(as_coach, lesson):
    keep_header(as_coach, lesson, new_venue="East field", temperature_c="12,5")
    lesson.refresh_from_db()
    assert lesson.venue == Venue.objects.get(name="East field") and lesson.temperature_c == 12.5


def test_pain_that_was_told_in_the_lesson_is_never_answered_with_nothing_new(as_coach, lesson):
    tap(as_coach, lesson, no_pain="on")
    assert pain_tap(as_coach, lesson) == ("No pain", True)
    hurt(as_coach, lesson, severity="5")
    assert pain_tap(as_coach, lesson) == ("Nothing new", False)


def pain_tap(client, lesson) -> tuple[str, bool]:
    answer = client.get(reverse("lessons:stop", args=[lesson.code, "greet"]), headers={"HX-Request": "true"})
    tap = answer.context["stop"]["data"]["questions"][0]["taps"][0]
    return tap["word"], tap["chosen"]
