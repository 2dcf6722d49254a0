"""Erasing a person: every table of the database, the files, the history of others, the mails, the file's own space."""

import json
from pathlib import Path

import pytest
from django.apps import apps
from django.conf import settings
from django.db import models
from django.utils import timezone

from academy import erasure, share
from academy.erasure.rows import pointing_to
from academy.erasure.run import LIST
from academy.journal import journal
from academy.models import Change, Concern, Erasure, Guardian, Student
from lessons import archive
from lessons.models import Lesson, LiveBall, Shot
from tests import factories
from tests.lessons.whole_record import make_world

MARK = "Quillfeather"


def text_columns(model) -> list[models.Field]:
    kinds = (models.CharField, models.TextField)
    return [
        one for one in model._meta.concrete_fields
        if isinstance(one, kinds) and not isinstance(one, models.EmailField)
        and not one.choices and not one.unique and (one.max_length or 99) >= len(MARK)
    ]


@pytest.fixture
def person(student, other_coach):
    """A student with a row in every table that knows students, and their mark in every text of those rows."""
    make_world(student=student, other_coach=other_coach)
    share.issue_link(student=student, by=student.coach)
    shot = Shot.objects.filter(block__lesson__student=student).first()
    LiveBall.objects.filter(pk=LiveBall.objects.first().pk).update(shot=shot, raw=f'{{"player": "{MARK}"}}')
    extent = erasure.preview(student=student)
    for model, keys in extent.keys.items():
        for column in text_columns(model):
            model._base_manager.filter(pk__in=keys).update(**{column.name: MARK})
    student.incidents.update(closed_on=timezone.localdate())
    Student.objects.filter(pk=student.pk).update(name=f"Edda {MARK}", email="edda@quillfeather.example")
    student.refresh_from_db()
    with journal(by=student.coach, sentence=f"{student.name} added") as entry:
        entry.create(Guardian(name=f"Ada {MARK}", code=student.code))
    Guardian.objects.get(code=student.code).students.add(student)
    return student


def everything() -> dict[str, list]:
    """Return every row of every table of the program, as text."""
    return {
        model._meta.label_lower: [str(row) for row in model._base_manager.values_list()]
        for model in apps.get_models(include_auto_created=True)
    }


def test_no_table_holds_the_person_any_more_and_nobody_else_lost_a_row(person):
    before, code = everything(), str(person.code)
    gone = erasure.preview(student=person)
    assert sum(MARK in row for rows in before.values() for row in rows) > 30
    erasure.erase(student=person, by=None)
    after = everything()
    left = {label: [row for row in rows if MARK in row or "quillfeather" in row] for label, rows in after.items()}
    assert not {label: rows for label, rows in left.items() if rows}
    assert [row for rows in after.values() for row in rows if code in row] == after["academy.erasure"]
    lost = {label: len(before[label]) - len(after[label]) for label in before}
    expected = {model._meta.label_lower: len(keys) for model, keys in gone.keys.items()}
    assert {label: n for label, n in lost.items() if n} == {
        **{label: n for label, n in expected.items() if n}, "academy.erasure": -1}


def test_the_other_students_record_is_what_it_was(person):
    other = Student.objects.get(name="Tove Lind")
    before = archive.write(student=other)["tables"]
    erasure.erase(student=person, by=None)
    assert archive.write(student=other)["tables"] == before


def test_every_column_that_points_to_a_person_is_known_to_go_or_to_be_emptied(person):
    """No column may point to a person with a rule of its own making, which the walk would not understand."""
    rules = {column.remote_field.on_delete for model in (Student, Lesson, Shot) for column in pointing_to(model)}
    assert rules <= {models.CASCADE, models.PROTECT, models.SET_NULL}


def test_the_history_of_others_keeps_that_something_was_done_and_not_about_whom(person):
    assert Change.objects.filter(sentence__contains=MARK, student=None).exists()
    erasure.erase(student=person, by=None)
    scrubbed = Change.objects.get(sentence="About a record that was erased")
    assert scrubbed.operations == [] and scrubbed.created_by is not None


def test_a_guardian_of_another_child_stays_and_the_one_of_this_child_goes(person):
    both = Guardian.objects.create(name="Sefa Lind")
    both.students.add(person, Student.objects.get(name="Tove Lind"))
    erasure.erase(student=person, by=None)
    assert Guardian.objects.filter(pk=both.pk).exists()
    assert not Guardian.objects.filter(name__contains=MARK).exists()


def test_the_files_go_with_their_rows_and_others_stay(person):
    lesson = person.lessons.first()
    root = Path(settings.MEDIA_ROOT)
    root.mkdir(parents=True, exist_ok=True)
    own, foreign = root / f"{lesson.code}.jpg", root / f"{Student.objects.get(name='Tove Lind').code}.jpg"
    for path in (own, foreign):
        path.write_bytes(b"picture")
    outbox = Path(settings.EMAIL_FILE_PATH)
    outbox.mkdir(parents=True, exist_ok=True)
    (outbox / "a.log").write_text("To: edda@quillfeather.example")
    (outbox / "b.log").write_text("To: tove@lind.example")
    kept = erasure.erase(student=person, by=None)
    assert not own.exists() and foreign.exists() and kept.files == 1
    assert [path.name for path in outbox.glob("*.log")] == ["b.log"]
    for path in (foreign, outbox / "b.log"):
        path.unlink()


def test_what_remains_is_a_code_and_counts(person, owner):
    kept = erasure.erase(student=person, by=owner)
    assert kept.rows > 40 and kept.created_by == owner
    assert kept.backups_until > timezone.localdate()
    assert MARK not in json.dumps({one.name: str(getattr(kept, one.name)) for one in kept._meta.concrete_fields})


def test_whoever_came_back_with_an_older_backup_is_erased_again(person, coach):
    document = archive.write(student=person)
    code = person.code
    erasure.erase(student=person, by=None)
    archive.read_in(json.loads(json.dumps(document)))
    assert Student.objects.filter(code=code).exists()
    assert erasure.again() == 1
    assert not Student.objects.filter(code=code).exists()
    assert Erasure.objects.get().student_code == code
    (settings.DATA_DIR / LIST).unlink()


def test_an_open_concern_keeps_the_record_and_the_sentence_does_not_say_why(person):
    Concern.objects.create(student=person, key=person.code, text="worry", sent_at=timezone.now())
    with pytest.raises(erasure.CannotErase, match="welfare lead") as refused:
        erasure.erase(student=person, by=None)
    assert "concern" not in str(refused.value).lower() and Student.objects.filter(pk=person.pk).exists()


def test_words_about_the_person_in_somebody_elses_record_are_counted_for_whoever_erases(person):
    factories.make_lesson(student=Student.objects.get(name="Tove Lind"), private_note=f"plays with Edda {MARK}")
    erasure.erase(student=person, by=None)
    assert erasure.mentions([f"Edda {MARK}"]) == {"lessons.lesson": 1}
