"""An archive goes out and comes in again as it was: one student's, or the whole academy's."""

import json
import uuid
from dataclasses import replace

import pytest
from django.apps import apps
from django.core.management import CommandError, call_command
from django.db import models

from academy.models import Coach, Student
from lessons import archive
from lessons.archive.tables import LEFT_OUT, TABLES
from lessons.models import DataSource, Lesson, LiveBall, PracticeEntry, Shot
from lessons.services import history, imports
from tests import factories

from .whole_record import SECRET_WORDS, make_world


@pytest.fixture
def world(student, other_coach):
    return make_world(student=student, other_coach=other_coach)


def content() -> dict[str, list]:
    """Return every row of every archived table, read straight from the database. Row numbers are replaced by the
    row's place in its table, secrets and the journal's own numbers are left out."""
    places = {
        table.model: {row.pk: place for place, row in enumerate(table.model._default_manager.order_by("pk"))}
        for table in TABLES
    }
    found = {}
    for table in TABLES:
        columns = [one for one in table.fields if one.name != "operations"]
        found[table.label] = [
            tuple(
                places[one.related_model].get(value) if isinstance(one, models.ForeignKey) else value
                for one, value in zip(columns, row, strict=True)
            )
            for row in table.model._default_manager.order_by("pk").values_list(*(one.attname for one in columns))
        ]
    return found


def emptied() -> None:
    for table in reversed(TABLES):
        table.model._default_manager.all().delete()


def through_json(document: dict) -> dict:
    return json.loads(json.dumps(document, allow_nan=False))


def test_every_table_of_the_program_is_in_an_archive_or_is_left_out_with_a_reason():
    rooms = [apps.get_app_config(name) for name in ("academy", "lessons")]
    every = {model._meta.label_lower for room in rooms for model in room.get_models()}
    assert every == {table.label for table in TABLES} | set(LEFT_OUT)


def test_the_whole_academy_comes_back_as_it_was(world):
    before = content()
    assert all(before.values()), [label for label, rows in before.items() if not rows]
    document = through_json(archive.write())
    emptied()
    # Row numbers that differ from the old ones must not matter.
    factories.make_coach("nobody").delete()
    stored = archive.read_in(document)
    assert content() == before
    assert stored == document["counts"] == {label: len(rows) for label, rows in before.items()}
    assert {**through_json(archive.write()), "made_at": ""} == {**document, "made_at": ""}


def test_one_student_comes_back_as_they_were_and_nobody_else_comes_with_them(world):
    document = through_json(archive.write(student=world))
    assert "Tove Lind" not in json.dumps(document)
    before = through_json(archive.write(student=world))["tables"]
    emptied()
    archive.read_in(document)
    assert [student.name for student in Student.objects.all()] == ["Edda Marlow"]
    assert through_json(archive.write(student=Student.objects.get()))["tables"] == before
    assert Shot.objects.count() == 5


def test_a_number_outside_its_bounds_that_was_stored_once_comes_back_too(world):
    Shot.objects.filter(pk=Shot.objects.first().pk).update(smash_factor=0.58)
    document = through_json(archive.write())
    emptied()
    archive.read_in(document)
    assert Shot.objects.filter(smash_factor=0.58).count() == 1


def test_what_came_back_can_still_be_undone(world):
    document = through_json(archive.write())
    emptied()
    extra = factories.make_lesson(student=factories.make_student(coach=factories.make_coach("extra"), name="Extra"))
    factories.add_balls(block=factories.make_block(lesson=extra), carry_m=[1.0, 2.0])
    Student.objects.all().delete()
    archive.read_in(document)
    lesson = Lesson.objects.get(student__name="Edda Marlow")
    coach = Coach.objects.get(username="coach")
    assert str(history.undo_last(by=coach, lesson=lesson)) == "Bay changed"
    lesson.refresh_from_db()
    assert lesson.device.name == "Bay 3"
    history.undo_last(by=coach, lesson=lesson)
    history.undo_last(by=coach, lesson=lesson)
    assert not Shot.objects.present().filter(block__lesson=lesson, batch__isnull=False).exists()
    assert Shot.objects.present().filter(block__lesson=lesson).count() == 4


def test_a_coach_who_is_here_already_takes_the_student_over(world, coach):
    document = through_json(archive.write(student=world))
    emptied()
    factories.make_academy()
    here = factories.make_coach("coach", first_name="Runa")
    archive.read_in(document)
    assert Student.objects.get().coach == here
    assert here.check_password("a-long-test-password")


def test_coaches_come_without_passwords_and_sources_without_tokens(world):
    document = through_json(archive.write())
    words = json.dumps(document)
    for secret in (*Coach.objects.values_list("password", flat=True), DataSource.objects.get().token_digest):
        assert secret and secret not in words
    emptied()
    archive.read_in(document)
    assert not any(coach.has_usable_password() for coach in Coach.objects.all())


def test_the_sharing_form_holds_no_notes_no_health_and_no_messages_and_still_goes_in(world):
    document = through_json(archive.write(sharing=True))
    assert SECRET_WORDS not in json.dumps(document)
    assert not {"academy.healthflag", "lessons.studentmessage", "academy.change"} & set(document["counts"])
    emptied()
    archive.read_in(document)
    assert Shot.objects.count() == 10
    assert PracticeEntry.objects.filter(pain=None).count() == 2


def test_the_sharing_form_holds_nothing_of_a_file_but_its_balls(student, coach):
    secret = "Quiet word about the divorce"
    data = f"Club,Carry (m),Remark\nDriver,200,{secret}\nDriver,far,{secret}\n".encode()
    batch = imports.look_at(
        by=coach, lesson=factories.make_lesson(student=student), data=data, filename=f"{secret}.csv", block=None
    )
    imports.decide(batch=batch, choices=replace(imports.choices_of(batch), corrections={"3": f"Driver,x,{secret}"}))
    imports.store(by=coach, batch=batch)
    LiveBall.objects.create(data_source=DataSource.objects.create(name="Bay 3"), raw=f'{{"remark": "{secret}"}}')
    assert secret in json.dumps(archive.write())
    document = through_json(archive.write(sharing=True))
    assert secret not in json.dumps(document)
    emptied()
    archive.read_in(document)
    assert Shot.objects.get().carry_m == 200


def damaged(document: dict, way: str) -> dict:
    shots = next(table for table in document["tables"] if table["table"] == "lessons.shot")
    at = shots["fields"].index
    if way == "newer":
        document["format"] = 2
    if way == "count":
        document["counts"]["lessons.shot"] += 1
    if way == "number":
        shots["rows"][0][at("carry_m")] = float("inf")
    if way == "kind":
        shots["rows"][0][at("carry_m")] = "far"
    if way == "lost":
        shots["rows"][0][at("block")] = str(uuid.uuid4())
    if way == "field":
        shots["fields"][0] = "colour"
    if way == "short":
        shots["rows"][0].pop()
    if way == "twice":
        shots["rows"][1][at("key")] = shots["rows"][0][at("key")]
    if way == "table":
        document["tables"][0]["table"] = "auth.group"
    if way == "demo":
        document["demo"] = True
    return document


@pytest.mark.parametrize(("way", "sentence"), [
    ("newer", "has format 2; this program reads up to 1"), ("count", "not as many as it says"),
    ("number", "carry_m: found a number that is not finite"), ("kind", "lessons.shot, row 1, carry_m"),
    ("lost", "which is not in the archive"), ("field", "“colour” is no field"), ("short", "not every row has"),
    ("twice", "here already, or does not fit"), ("table", "“auth.group” that is not known"), ("demo", "demo"),
])
def test_a_damaged_archive_changes_nothing_and_says_where(world, way, sentence):
    document = damaged(through_json(archive.write()), way)
    emptied()
    with pytest.raises(archive.ArchiveError, match=sentence):
        archive.read_in(document)
    assert not any(content().values())


@pytest.mark.parametrize("document", [
    None, [], "x", {}, {"program": "holdfast"}, {"program": "holdfast", "format": True},
    {"program": "holdfast", "format": 1, "kind": "academy", "demo": False, "tables": [{"table": []}], "counts": {}},
])
def test_what_is_no_archive_gets_a_sentence(academy, document):
    with pytest.raises(archive.ArchiveError):
        archive.read_in(document)


def test_a_student_who_is_here_and_an_academy_among_students_are_refused(world):
    with pytest.raises(archive.ArchiveError, match="here already"):
        archive.read_in(through_json(archive.write(student=world)))
    with pytest.raises(archive.ArchiveError, match="empty database only"):
        archive.read_in(through_json(archive.write()))


def test_the_commands_write_and_read_a_file(world, tmp_path, capsys):
    file = tmp_path / "one.json"
    call_command("export_archive", str(file), "--student", str(world.code))
    assert file.stat().st_mode & 0o077 == 0
    emptied()
    call_command("import_archive", str(file))
    assert Student.objects.get().name == "Edda Marlow"
    assert "changepassword" in capsys.readouterr().out
    with pytest.raises(CommandError, match="Nothing was changed"):
        call_command("import_archive", str(file))
    file.write_text('{"program": NaN}')
    with pytest.raises(CommandError, match="no JSON document"):
        call_command("import_archive", str(file))
    with pytest.raises(CommandError, match="no student with the code"):
        call_command("export_archive", str(file), "--student", "x")
