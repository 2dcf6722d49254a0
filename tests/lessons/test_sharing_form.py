"""The sharing form says nothing that its reader, an owner, does not see on the pages: tried with a mark in every
text of every table, so that a table added later is looked at too."""

import json
import re

import pytest
from django.db import connection, models
from django.urls import reverse

from lessons import archive
from lessons.archive.tables import TABLES
from lessons.models.batch import deflated
from tests.lessons.whole_record import make_world

SQLITE = connection.vendor == "sqlite"
READ_BY_OWNERS = {
    "academy.academy": {"name", "timezone", "language", "emergency_number", "defibrillator_place", "house_rules"},
    "academy.coach": {"first_name", "last_name", "email", "username"},
    "academy.venue": {"name", "surface"},
    "academy.student": {"name", "email", "phone", "language", "demo_hint"},
    "academy.guardian": {"name", "email", "phone"},
    "academy.guardianship": {"relation"},
    "academy.consent": {"given_by_name"},
    "academy.goal": {"text", "quantity", "test"},
    "academy.club": {"name", "shaft", "grip"},
    "lessons.block": {"club_name", "aids", "summary", "summary_version"},
    "lessons.datasource": {"name", "columns", "club_names", "headings_fingerprint", "date_format"},
    "lessons.importbatch": {"file_digest"},
    "lessons.libraryentry": {"slug", "title", "data", "fingerprint"},
    "lessons.lesson": {"done_stops"},
    "lessons.liveball": {"club_name", "category", "numbers", "calls"},
    "lessons.override": {"slug", "path", "value"},
    "lessons.booking": {"bay", "published"},
    "lessons.groupclass": {"name", "bay", "stations"},
    "lessons.messagetext": {"subject", "body"},
    "lessons.package": {"name"},
    "lessons.packageentry": {"invoice"},
    "lessons.plantemplate": {"title", "body", "copied_from"},
    "lessons.practicedays": {"weekdays"},
    "lessons.queuemark": {"about"},
    "lessons.round": {"course"},
    "lessons.setupobservation": {"entered", "camera"},
    "lessons.setuplook": {"entered"},
    "lessons.setupseries": {"aids", "club_name"},
    "lessons.skilltest": {"design"},
    "lessons.studentevent": {"name"},
    "lessons.standing": {"verdict", "verdict_sentence", "student_sentence", "quantity", "trend", "window"},
    "lessons.waiting": {"wish"},
    "lessons.watchedfile": {"name", "digest"},
}
"""Table -> texts that an owner reads on pages: names, conditions, numbers, verdicts of the roster, the library."""


def mark(label: str, name: str, row: int) -> str:
    return f"«{label}.{name}»{row}"


def texts_of(model) -> list[models.Field]:
    """Return the columns in which somebody could write something."""
    kinds = (models.CharField, models.TextField, models.JSONField, models.BinaryField)
    return [one for one in model._meta.concrete_fields if isinstance(one, kinds) and not one.choices]


@pytest.fixture
def marked(student, other_coach):
    """A record with a mark in every text. Lengths are not kept: only SQLite lets them through, and only here."""
    make_world(student=student, other_coach=other_coach)
    for table in TABLES:
        for number in table.model._default_manager.values_list("pk", flat=True):
            row = table.model._default_manager.filter(pk=number)
            for one in texts_of(table.model):
                said = mark(table.label, one.name, number)
                if isinstance(one, models.BinaryField):
                    row.update(**{one.name: deflated(said.encode())})
                elif isinstance(one, models.JSONField):
                    row.update(**{one.name: [] if table.label == "academy.change" else {"mark": said}})
                else:
                    row.update(**{one.name: said})
    return student


def found(document: dict) -> dict[str, set[str]]:
    """Return table -> columns whose mark stands anywhere in the document."""
    seen: dict[str, set[str]] = {}
    for label, name in re.findall(r"«([a-z.]+)\.(\w+)»", json.dumps(document, ensure_ascii=False)):
        seen.setdefault(label, set()).add(name)
    return seen


@pytest.mark.skipif(not SQLITE, reason="PostgreSQL keeps to the lengths, the marks do not")
def test_the_sharing_form_of_the_academy_says_only_what_owners_read(marked):
    seen = found(archive.write(sharing=True))
    beyond = {label: names - READ_BY_OWNERS.get(label, set()) for label, names in seen.items()}
    assert not {label: names for label, names in beyond.items() if names}


@pytest.mark.skipif(not SQLITE, reason="PostgreSQL keeps to the lengths, the marks do not")
def test_the_whole_form_holds_all_of_it(marked):
    seen = found(archive.write())
    assert {"decision_reason", "title"} <= seen["lessons.finding"] and "cue" in seen["lessons.prescription"]
    assert "private_note" in seen["lessons.lesson"] and "text" in seen["academy.healthflag"]


@pytest.mark.parametrize("table", ["findings", "changes", "drills", "health", "messages"])
def test_an_owner_gets_no_table_of_what_was_said_in_lessons(client, owner, student, other_coach, table):
    make_world(student=student, other_coach=other_coach)
    client.force_login(owner)
    assert client.get(reverse("lessons:student_table", args=[student.code, table])).status_code == 404
    client.force_login(student.coach)
    assert client.get(reverse("lessons:student_table", args=[student.code, table])).status_code == 200
