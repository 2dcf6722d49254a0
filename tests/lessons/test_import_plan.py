"""The preview and the storing follow one plan; a file that is looked at is read once; a preview writes nothing."""

import sqlite3

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from academy import journal
from lessons.imports import reader
from lessons.models import Shot
from lessons.services import import_readings
from lessons.services import imports as service
from lessons.services.history import undo_last
from lessons.services.import_readings import table_of
from tests import factories

pytestmark = pytest.mark.django_db
TWO_CLUBS = b"Club,Path deg,Carry m\nDriver,5.1,200.5\nDriver,4.2,205.0\n7i,1.0,150.2\nDriver,x,190.2\n7i,2.0,151.7\n"
SECOND = b"Club,Spin (rpm),Carry m\nDriver,2500,200.5\nDriver,2600,205.0\nDriver,2700,190.2\nDriver,2800,211.3\n"


@pytest.fixture(autouse=True)
def nothing_kept():
    import_readings._tables.clear()


@pytest.fixture
def lesson(student):
    lesson = factories.make_lesson(student=student)
    factories.make_block(lesson=lesson)
    return lesson


@pytest.fixture
def reads(monkeypatch):
    """Count how often a file is read."""
    counted = []
    plain = reader.read_table
    monkeypatch.setattr(import_readings, "read_table", lambda *args, **how: counted.append(how) or plain(*args, **how))
    return counted


def look_at(lesson, coach, data=TWO_CLUBS, name="day.csv"):
    return service.look_at(by=coach, lesson=lesson, data=data, filename=name, block=None)


def told(outcome):
    """Return what a person is told of an outcome."""
    return (
        outcome.new, outcome.already, outcome.completed, outcome.overlap, len(outcome.parsed.problems),
        [(target.balls, target.is_new, target.reason, target.block.club_name, target.block.position)
         for target in outcome.targets],
    )


@pytest.mark.parametrize(
    "stored_first", [b"", TWO_CLUBS[:60], SECOND], ids=["nothing", "some of it", "another device"]
)
def test_storing_does_what_the_preview_said(lesson, coach, stored_first):
    if stored_first:
        service.store(by=coach, batch=look_at(lesson, coach, stored_first, "first.csv"))
    batch = look_at(lesson, coach)
    said = service.preview(batch=batch, table=table_of(batch))
    assert told(service.store(by=coach, batch=batch)) == told(said)
    assert lesson.blocks.count() == 1 + sum(target.is_new for target in said.targets)


def test_a_preview_writes_nothing_and_waits_for_nobody(lesson, coach):
    batch = look_at(lesson, coach)
    table = table_of(batch)
    with CaptureQueriesContext(connection) as asked:
        assert service.preview(batch=batch, table=table).new == 4
    assert all(query["sql"].startswith("SELECT") for query in asked.captured_queries)
    assert Shot.objects.count() == 0 and lesson.blocks.count() == 1


def test_a_file_is_read_once_from_choosing_to_stored(as_coach, lesson, coach, reads):
    batch = look_at(lesson, coach)
    as_coach.get(reverse("lessons:import_look", args=[batch.code]))
    as_coach.post(reverse("lessons:import_store", args=[batch.code]))
    assert Shot.objects.count() == 4 and len(reads) == 1


def test_a_corrected_row_is_read_anew(as_coach, lesson, coach, reads):
    batch = look_at(lesson, coach)
    as_coach.post(reverse("lessons:import_correct", args=[batch.code]), {"row_5": "Driver,3.3,190.2"})
    as_coach.post(reverse("lessons:import_store", args=[batch.code]))
    assert Shot.objects.filter(club_path_deg=3.3).exists() and len(reads) == 2


def test_a_reading_that_somebody_changed_meanwhile_is_the_one_that_is_stored(lesson, coach):
    batch = look_at(lesson, coach)
    table_of(batch)
    other = type(batch).objects.get(pk=batch.pk)
    choices = service.choices_of(other)
    choices.corrections["5"] = "Driver,3.3,190.2"
    service.decide(batch=other, choices=choices)
    assert service.store(by=coach, batch=batch).new == 5


def test_only_a_few_tables_are_kept_and_none_of_a_long_file_or_a_stored_one(lesson, coach, monkeypatch):
    for number in range(import_readings.KEPT_FILES + 2):
        look_at(lesson, coach, TWO_CLUBS + b"Driver,%d,180\n" % number)
    assert len(import_readings._tables) == import_readings.KEPT_FILES
    last = look_at(lesson, coach)
    service.store(by=coach, batch=last)
    assert all(key[0] != last.file_digest for key in import_readings._tables)
    monkeypatch.setattr(import_readings, "MOST_BYTES", 10)
    import_readings._tables.clear()
    look_at(lesson, coach)
    assert not import_readings._tables


def test_a_file_of_more_balls_than_one_statement_takes_values_is_taken_back_whole(lesson, coach, monkeypatch):
    monkeypatch.setattr(journal, "KEYS_AT_ONCE", 20)
    rows = b"".join(b"Driver,%d.1,%d\n" % (number % 9, 150 + number) for number in range(90))
    service.store(by=coach, batch=look_at(lesson, coach, b"Club,Path deg,Carry m\n" + rows))
    assert Shot.objects.present().count() == 90
    if connection.vendor == "sqlite":
        usual = connection.connection.setlimit(sqlite3.SQLITE_LIMIT_VARIABLE_NUMBER, 80)
    try:
        undo_last(by=coach, lesson=lesson)
    finally:
        if connection.vendor == "sqlite":
            connection.connection.setlimit(sqlite3.SQLITE_LIMIT_VARIABLE_NUMBER, usual)
    assert Shot.objects.present().count() == 0


def test_what_a_reading_raises_is_raised_again(lesson, coach):
    table = table_of(look_at(lesson, coach))
    for _ in range(2):
        with pytest.raises(ZeroDivisionError):
            import_readings.kept_beside(table, "key", lambda: 1 // 0)
    assert import_readings.kept_beside(table, "key", lambda: 7) == 7
    assert import_readings.kept_beside(table, "key", lambda: 8) == 7
