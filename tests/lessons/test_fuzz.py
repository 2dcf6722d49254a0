"""Whatever comes in from outside: a sentence or a result, never a broken page, never half a write.

Bounded by examples, not by the clock, so that a run is the same on any machine.
"""

import json
import random
from contextlib import contextmanager

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import transaction
from django.urls import reverse
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from academy.models import Change, Student
from lessons import archive
from lessons.imports.reader import read_table
from lessons.imports.suggest import propose
from lessons.imports.types import ImportRefusal
from lessons.media.content import clean
from lessons.media.types import Refused
from lessons.models import DataSource, ImportBatch, LibraryEntry, Shot
from lessons.services.sources import issue_token
from tests import factories
from tests.lessons.whole_record import make_world

FEW = settings(max_examples=40, deadline=None, derandomize=True, database=None,
               suppress_health_check=list(HealthCheck))
MANY = settings(FEW, max_examples=250)
ROWS = st.lists(st.lists(st.one_of(
    st.text(max_size=12), st.floats().map(str), st.integers().map(str),
    st.sampled_from(["Club", "Carry", "Driver", "="]),
), max_size=6), max_size=12)
SEPARATED = st.tuples(ROWS, st.sampled_from(",;\t|")).map(
    lambda made: "\n".join(made[1].join(row) for row in made[0]).encode("utf-8", "surrogatepass"))
ANYTHING = st.one_of(st.binary(max_size=400), SEPARATED)
VALUES = st.recursive(
    st.one_of(st.none(), st.booleans(), st.integers(), st.floats(), st.text(max_size=20)),
    lambda inner: st.one_of(st.lists(inner, max_size=4), st.dictionaries(st.text(max_size=12), inner, max_size=4)),
    max_leaves=8,
)


@MANY
@given(data=ANYTHING, name=st.sampled_from(["a.csv", "a.txt", "a.xlsx", "", "../../a.csv"]))
def test_a_file_is_read_or_refused_with_a_sentence(data, name):
    try:
        propose(read_table(data, filename=name))
    except ImportRefusal as refused:
        assert str(refused)


def torn(data: bytes, seed: int) -> bytes:
    """Return a good file with a few bytes changed, and now and then its end cut off."""
    rng, bent = random.Random(seed), bytearray(data)
    for _ in range(rng.randint(1, 8)):
        bent[rng.randrange(len(bent))] = rng.randrange(256)
    return bytes(bent[: rng.choice([len(bent), rng.randrange(1, len(bent))])])


@pytest.fixture(scope="module")
def pictures():
    """Small good files of each kind that is kept."""
    from io import BytesIO

    from PIL import Image

    made = []
    for kind in ("JPEG", "PNG", "WEBP"):
        file = BytesIO()
        Image.new("RGB", (40, 30), (120, 90, 60)).save(file, kind)
        made.append(file.getvalue())
    return made


@MANY
@given(seed=st.integers(0, 2**32), which=st.integers(0, 2))
def test_a_torn_picture_is_cleaned_or_refused_with_a_sentence(pictures, seed, which):
    try:
        assert clean(torn(pictures[which], seed)).data
    except Refused as refused:
        assert str(refused)


@MANY
@given(data=st.one_of(
    st.binary(max_size=300), st.sampled_from([b"<svg onload=alert(1)>", b"<html><script>", b"GIF89a"])
))
def test_what_is_no_picture_is_refused(data):
    with pytest.raises(Refused):
        clean(data)


@contextmanager
def taken_back():
    """Every example leaves the database as it found it."""
    with transaction.atomic():
        yield
        transaction.set_rollback(True)


def answered(response) -> None:
    assert response.status_code < 500
    assert "Traceback" not in response.content.decode(errors="replace")


@pytest.fixture
def block(student, coach, client):
    client.force_login(coach)
    return factories.make_block(lesson=factories.make_lesson(student=student))


@FEW
@given(data=ANYTHING)
def test_a_file_that_is_sent_is_looked_at_or_refused_and_stores_no_ball(client, block, data):
    with taken_back():
        sent = {"file": SimpleUploadedFile("a.csv", data), "block": str(block.code)}
        answered(client.post(reverse("lessons:import_new", args=[block.lesson.code]), sent))
        assert not Shot.objects.exists()
        for batch in ImportBatch.objects.all():
            answered(client.get(reverse("lessons:import_look", args=[batch.code])))


@FEW
@given(words=st.text(max_size=60))
def test_any_words_may_be_searched_for(client, block, words):
    with taken_back():
        for name in ("academy:students", "lessons:library", "lessons:roster"):
            answered(client.get(reverse(name), {"q": words, "place": words, "coach": words}))


@FEW
@given(body=VALUES)
def test_a_program_that_sends_anything_gets_a_sentence_and_stores_all_or_nothing(client, block, body):
    with taken_back():
        source = DataSource.objects.create(name="Bay 3")
        response = client.post(
            reverse("lessons:api_shots"), json.dumps(body), content_type="application/json",
            headers={"authorization": f"Bearer {issue_token(source=source)}"},
        )
        answered(response)
        assert response.status_code != 401
        assert response.status_code < 300 or not Shot.objects.exists()


@FEW
@given(seed=st.integers(0, 2**32))
def test_a_bent_archive_comes_in_whole_or_changes_nothing(world_document, seed):
    document = bent(json.loads(world_document), random.Random(seed))
    with taken_back():
        before = counted()
        try:
            archive.read_in(document)
        except archive.ArchiveError as refused:
            assert str(refused)
            assert counted() == before


def counted() -> list[int]:
    return [model.objects.count() for model in (Student, Shot, Change, LibraryEntry)]


@pytest.fixture
def world_document(student, other_coach):
    """An archive of a student, who is gone again so that it could come in."""
    make_world(student=student, other_coach=other_coach)
    document = json.dumps(archive.write(student=student))
    from tests.lessons.test_export import emptied

    emptied()
    return document


def bent(document: dict, rng: random.Random) -> dict:
    """Change one value somewhere in a table to something that does not belong there."""
    table = rng.choice([one for one in document["tables"] if one["rows"]])
    row = rng.choice(table["rows"])
    row[rng.randrange(len(row))] = rng.choice(
        [None, True, -1, 10**40, float("nan"), "", "\0", "x" * 5000, [], {}, "2020-13-45", {"a": [1]}])
    return document
