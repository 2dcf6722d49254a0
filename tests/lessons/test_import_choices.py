"""What a person says of a whole file: other balls, the hour that comes twice, whose name a reading gets."""

from datetime import UTC, datetime

import pytest
from django.urls import reverse

from academy.models import Academy
from lessons.imports.types import ImportRefusal
from lessons.models import DataSource, Shot
from lessons.services import imports as service
from lessons.services.history import undo_last
from lessons.services.import_readings import table_of
from lessons.services.import_sources import first_choices
from tests import factories

pytestmark = pytest.mark.django_db
FILE = b"Club,Path deg,Carry m\nDriver,5.1,200.5\nDriver,4.2,205.0\nDriver,6.0,190.2\n"
NIGHT = (
    b"Date and time,Club,Path deg,Carry m\n"
    b"2026-10-25 01:30:00,Driver,5.1,200.5\n2026-10-25 03:10:00,Driver,4.2,205.0\n"
)


@pytest.fixture
def lesson(student):
    lesson = factories.make_lesson(student=student)
    factories.make_block(lesson=lesson)
    return lesson


def look_at(lesson, coach, data=FILE, name="day.csv"):
    return service.look_at(by=coach, lesson=lesson, data=data, filename=name, block=None)


def reading(client, batch, **values):
    """Send the form of the page the way a browser does, with some values changed."""
    form = client.get(reverse("lessons:import_look", args=[batch.code])).context["form"]
    data = {name: form[name].value() or "" for name in form.fields if form[name].value() not in (None, False)}
    return client.post(reverse("lessons:import_look", args=[batch.code]), {**data, **values}), batch


def test_a_stored_file_is_not_read_another_way_behind_its_balls(as_coach, lesson, coach):
    batch = look_at(lesson, coach)
    service.store(by=coach, batch=batch)
    with pytest.raises(ImportRefusal, match="take its storing back"):
        service.decide(batch=batch, choices=service.choices_of(batch))
    as_coach.post(reverse("lessons:import_correct", args=[batch.code]), {"row_2": "Driver,9,9"})
    batch.refresh_from_db()
    assert batch.reading["corrections"] == {}
    undo_last(by=coach, lesson=lesson)
    service.decide(batch=batch, choices=service.choices_of(batch))


def test_balls_that_only_look_like_stored_ones_are_taken_in_when_a_person_says_so(as_coach, lesson, coach):
    service.store(by=coach, batch=look_at(lesson, coach))
    batch = look_at(lesson, coach, name="again.csv")
    page = as_coach.get(reverse("lessons:import_look", args=[batch.code])).content.decode()
    assert "3 of 3 already here" in page and "These are other balls" in page
    reading(as_coach, batch, apart="on")
    batch.refresh_from_db()
    assert service.store(by=coach, batch=batch).new == 3
    assert Shot.objects.present().count() == 6


def test_the_hour_that_comes_twice_is_told_and_can_be_read_as_the_second(as_coach, lesson, coach):
    Academy.objects.update(timezone="Europe/Dublin")
    batch = look_at(lesson, coach, NIGHT)
    page = as_coach.get(reverse("lessons:import_look", args=[batch.code])).content.decode()
    assert "1 ball came at a time of night that the clock showed twice" in page and "Read as the first time" in page
    reading(as_coach, batch, second_pass="on")
    as_coach.post(reverse("lessons:import_store", args=[batch.code]))
    first, later = Shot.objects.order_by("hit_at")
    assert first.hit_at == datetime(2026, 10, 25, 1, 30, tzinfo=UTC), "Irish winter time, not 00:30 UTC"
    assert later.hit_at == datetime(2026, 10, 25, 3, 10, tzinfo=UTC)


def test_a_name_with_another_reading_is_not_taken_over_unasked(as_coach, lesson, coach, other_coach):
    DataSource.objects.create(name="Bay 3", created_by=other_coach, headings_fingerprint="x", columns={
        "apex_m": {"heading": "Height of flight", "unit": "m"}})
    batch = look_at(lesson, coach)
    answer, _ = reading(as_coach, batch, source_name="Bay 3")
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "“Bay 3”, added by Piet Arden, is remembered with other headings: “Height of flight”" in page
    assert "Its files look like this one from now on" in page
    assert DataSource.objects.get().columns.keys() == {"apex_m"}
    reading(as_coach, batch, source_name="Bay 3", replaces="on")
    batch.refresh_from_db()
    service.store(by=coach, batch=batch)
    assert "club_path_deg" in DataSource.objects.get().columns


def test_a_new_name_belongs_to_whoever_said_it_and_is_known_next_time(as_coach, lesson, coach):
    batch = look_at(lesson, coach)
    reading(as_coach, batch, source_name="Net at home")
    batch.refresh_from_db()
    service.store(by=coach, batch=batch)
    assert DataSource.objects.get().created_by == coach
    again = look_at(lesson, coach, name="next.csv")
    assert service.choices_of(again).source_name == "Net at home"
    assert first_choices(table_of(again), lesson=lesson, block=None).confirmed
    assert reading(as_coach, again, source_name="Net at home")[0].status_code == 302
    assert "Runa Holm" in as_coach.get(reverse("lessons:sources")).content.decode()


def test_one_ball_is_one_ball_in_every_sentence(as_coach, lesson, coach):
    batch = look_at(lesson, coach, b"Club,Path deg,Carry m\nDriver,5.1,200.5\n", name="one.csv")
    assert "<strong>1 ball of Driver" in as_coach.get(
        reverse("lessons:import_look", args=[batch.code])).content.decode()
    page = as_coach.post(reverse("lessons:import_store", args=[batch.code]), follow=True).content.decode()
    assert "1 ball stored." in page
    history = as_coach.get(reverse("lessons:lesson_history", args=[lesson.code])).content.decode()
    assert "one.csv: 1 ball taken in" in history
