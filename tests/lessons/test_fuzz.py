"""Whatever comes in from outside: a sentence or a result, never a broken page, never half a write.

Bounded by examples, not by the clock, so that a run is the same on any machine.
"""

import json
import random

import pytest
from django.urls import reverse
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from hypothesis.extra.django import TestCase

from academy.models import Change, Student
from lessons import archive
from lessons.imports.reader import read_table
from lessons.imports.suggest import propose
from lessons.imports.types import ImportRefusal
from lessons.media.content import clean
from lessons.media.types import MediaRefusal
from lessons.models import ImportBatch, LibraryEntry, Shot
from lessons.services.sources import issue_token
from tests import factories
from tests.lessons.whole_record import make_world

FEW = settings(max_examples=40, deadline=None, derandomize=True, database=None,
               suppress_health_check=list(HealthCheck))
MANY = settings(FEW, max_examples=250)
ROWS = st.lists(st.lists(st.one_of(
    st.text(max_size=12), st.floats().map(str), st.integers().map(str), st.sampled_from(["Club", "Carry", "Driver", "="])
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
    except MediaRefusal as refused:
        assert str(refused)


@MANY
@given(data=st.one_of(st.binary(max_size=300), st.sampled_from([b"<svg onload=alert(1)>", b"<html><script>", b"GIF89a"])))
def test_what_is_no_picture_is_refused(data):
    with pytest.raises(MediaRefusal):
        clean(data)


class Pages(TestCase):
    """Pages and doors with a database; each example is rolled back."""

    def setUp(self) -> None:
        factories.make_academy()
        self.coach = factories.make_coach("coach")
        self.lesson = factories.make_lesson(student=factories.make_student(coach=self.coach))
        self.block = factories.make_block(lesson=self.lesson)
        self.client.force_login(self.coach)

    def answered(self, response) -> None:
        assert response.status_code < 500
        assert "Traceback" not in response.content.decode(errors="replace")

    @FEW
    @given(data=ANYTHING)
    def test_a_file_that_is_sent_is_looked_at_or_refused_and_stores_no_ball(self, data):
        from django.core.files.uploadedfile import SimpleUploadedFile

        sent = {"file": SimpleUploadedFile("a.csv", data), "block": str(self.block.code)}
        self.answered(self.client.post(reverse("lessons:import_new", args=[self.lesson.code]), sent))
        assert not Shot.objects.exists()
        for batch in ImportBatch.objects.all():
            self.answered(self.client.get(reverse("lessons:import_look", args=[batch.code])))

    @FEW
    @given(words=st.text(max_size=60))
    def test_any_words_may_be_searched_for(self, words):
        for name in ("academy:students", "lessons:library", "lessons:roster"):
            self.answered(self.client.get(reverse(name), {"q": words, "place": words, "coach": words}))

    @FEW
    @given(body=VALUES)
    def test_a_program_that_sends_anything_gets_a_sentence_and_stores_all_or_nothing(self, body):
        from lessons.models import DataSource

        source = DataSource.objects.get_or_create(name="Bay 3")[0]
        token = issue_token(source=source)
        token = token[1] if isinstance(token, tuple) else token
        response = self.client.post(
            reverse("lessons:api_shots"), json.dumps(body), content_type="application/json",
            headers={"authorization": f"Bearer {token}"},
        )
        self.answered(response)
        assert response.status_code >= 400 or response.json()


@FEW
@given(seed=st.integers(0, 2**32))
def test_a_bent_archive_comes_in_whole_or_changes_nothing(world_document, django_db_blocker, seed):
    document = bent(json.loads(world_document), random.Random(seed))
    before = (Student.objects.count(), Shot.objects.count(), Change.objects.count(), LibraryEntry.objects.count())
    try:
        archive.read_in(document)
    except archive.ArchiveError as refused:
        assert str(refused)
        after = (Student.objects.count(), Shot.objects.count(), Change.objects.count(), LibraryEntry.objects.count())
        assert after == before
    else:
        Student.objects.all().delete()


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
