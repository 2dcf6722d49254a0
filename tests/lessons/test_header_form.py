"""The conditions of the hour: the air is stored with the lesson, the place's height with the place."""

import pytest
from django.urls import reverse

from academy.models import Venue
from lessons.reference_carry import air_of
from tests import factories


@pytest.fixture
def lesson(student):
    marsh = Venue.objects.create(name="Marsh", altitude_m=12)
    return factories.make_lesson(student=student, venue=marsh)


def send(client, lesson, **values):
    return client.post(reverse("lessons:lesson_header", args=[lesson.code]), values)


def test_a_new_place_gets_the_height_that_was_typed(as_coach, lesson):
    send(as_coach, lesson, new_venue="Hill", altitude_m="480", temperature_c="18")
    lesson.refresh_from_db()
    assert (lesson.venue.name, lesson.venue.altitude_m, lesson.temperature_c) == ("Hill", 480, 18)


def test_choosing_another_place_does_not_give_it_the_height_of_the_one_before(as_coach, lesson):
    hill = Venue.objects.create(name="Hill", altitude_m=480)
    send(as_coach, lesson, venue=str(hill.code), altitude_m="12")
    hill.refresh_from_db()
    assert hill.altitude_m == 480


def test_a_station_pressure_is_kept_with_the_lesson(as_coach, lesson):
    send(as_coach, lesson, venue=str(lesson.venue.code), altitude_m="12", temperature_c="18", pressure_hpa="1003")
    lesson.refresh_from_db()
    assert lesson.pressure_hpa == 1003
    assert air_of(lesson).air is not None


@pytest.mark.parametrize(("field", "text", "sentence"), [
    ("pressure_hpa", "30", "expected 500 to 1100 hPa"), ("altitude_m", "9000", "expected -430 to 5000 m"),
])
def test_what_cannot_be_is_refused_with_what_was_expected(as_coach, lesson, field, text, sentence):
    response = send(as_coach, lesson, venue=str(lesson.venue.code), **{field: text})
    assert response.status_code == 422
    assert sentence in response.content.decode()
