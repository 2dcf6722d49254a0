"""One student's tables for a spreadsheet, and the pages that hand records over."""

import csv
import io

import pytest
from django.urls import reverse

from lessons import archive
from lessons.imports.parse import parse
from lessons.imports.reader import read_table
from lessons.imports.suggest import propose
from lessons.models import Lesson, Shot
from metrics.fields import FIELDS
from tests import factories

from .whole_record import SECRET_WORDS, make_world


@pytest.fixture
def world(student, other_coach):
    return make_world(student=student, other_coach=other_coach)


def table(client, student, name: str) -> list[dict]:
    response = client.get(reverse("lessons:student_table", args=[student.code, name]))
    assert response["Content-Disposition"].startswith("attachment")
    return list(csv.DictReader(io.StringIO(response.content.decode("utf-8-sig"))))


def test_text_that_a_spreadsheet_would_run_is_made_safe_and_numbers_stay_numbers(as_coach, world):
    goal = table(as_coach, world, "goals")[0]
    assert goal["text"] == "'=HYPERLINK(1)"
    assert goal["lower"] == "-1.5"


@pytest.mark.parametrize("name", archive.CSV_TABLES)
def test_every_table_can_be_had(as_coach, world, name):
    assert table(as_coach, world, name)


def test_the_balls_go_in_again_with_every_digit(as_coach, world):
    """Every quantity there is, through the reader, the suggestions and the parser that any file goes through."""
    Shot.objects.all().delete()
    block = Lesson.objects.get(student=world).blocks.first()
    values = {
        key: [spec.lower + (spec.upper - spec.lower) * part / 7 for part in (1, 2, 3)] for key, spec in FIELDS.items()
    }
    factories.add_balls(block=block, **values)
    data = as_coach.get(reverse("lessons:student_table", args=[world.code, "balls"])).content
    read = read_table(data, filename="balls.csv")
    proposal = propose(read)
    assert not proposal.questions
    parsed = parse(read, columns=proposal.columns, hand=world.hand, file_sign="player")
    assert not parsed.problems
    assert set(parsed.categories) == {"driver"}
    assert parsed.when is not None
    assert {key: found.tolist() for key, found in parsed.shots.items()} == values


def test_an_owner_gets_the_sharing_form_of_a_student_taught_by_somebody_else(client, owner, world):
    client.force_login(owner)
    address = reverse("lessons:student_archive", args=[world.code])
    assert client.get(address).json()["form"] == "sharing"
    assert client.get(reverse("lessons:student_table", args=[world.code, "health"])).status_code == 404
    assert SECRET_WORDS not in client.get(reverse("lessons:academy_archive")).content.decode()
    page = client.get(reverse("lessons:student", args=[world.code])).content.decode()
    assert address in page and reverse("lessons:academy_archive") in page


def test_a_coach_gets_the_whole_record_of_an_own_student(as_coach, world):
    response = as_coach.get(reverse("lessons:student_archive", args=[world.code]))
    assert response.json()["form"] == "whole"
    assert SECRET_WORDS in response.content.decode()
