"""The page speaks to the age of its child."""

import re
import uuid
from datetime import timedelta

import pytest
from django.utils import timezone

from academy.models import Academy
from lessons.models import PracticeEntry
from lessons.queries.age_bands import band_of, to_a_child
from metrics.change.words import WORDS
from tests import factories

from . import cast

MEASURE = re.compile(r"\d\s?(°|cm|mm|%)")


def child(coach, age):
    born = timezone.localdate() - timedelta(days=round(age * 365.25) + 20)
    student = factories.make_student(
        coach=coach, name="Ilya Reed", born_on=born, practice_minutes_week=240, shoulder_width_cm=30)
    cast.whole_story(student)
    return student


def page_of(student):
    response = cast.holder_of(student, guardian=cast.guardian_of(student)).get("/me/")
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", response.content.decode()))


@pytest.mark.parametrize(("age", "key"), [
    (3, "games"), (6, "games"), (7, "targets"), (10, "targets"), (11, "skills"), (14, "skills"), (15, "own"),
    (17, "own"), (18, "adult"), (None, "adult"),
])
def test_each_age_has_its_band(age, key):
    assert band_of(age=age, adult_age=18).key == key


def test_an_academy_where_adults_are_older_has_no_gap():
    assert band_of(age=19, adult_age=21).key == "adult" and band_of(age=16, adult_age=16).key == "adult"


@pytest.mark.parametrize(("age", "minutes"), [(5, 10), (9, 20), (13, 60), (16, 60)])
def test_a_task_is_not_longer_than_fits_the_age(coach, age, minutes):
    assert f": {minutes} minutes," in page_of(child(coach, age))


@pytest.mark.parametrize(("age", "words", "not_words"), [
    (5, ["Ilya’s game", "Play now", "Stop while it is still fun"], ["first ten"]),
    (9, ["Play now", "Pick a target, have a go"], ["first ten"]),
    (12, ["When you grow, your timing can go away", "Your first ten", "Practise now"], ["Play now"]),
    (16, ["Your first ten", "Practise now"], ["When you grow", "Play now"]),
])
def test_the_words_fit_the_age(coach, age, words, not_words):
    page = page_of(child(coach, age))
    assert [word for word in words if word not in page] == []
    assert [word for word in not_words if word in page] == []


@pytest.mark.parametrize(("age", "reads"), [(6, False), (10, False), (11, True)])
def test_below_eleven_no_measure_stands_on_the_page_and_none_in_the_picture(coach, age, reads):
    page = page_of(child(coach, age))
    assert "toes on the railway line" in page and "Pick a target" in page
    assert bool(MEASURE.search(page)) is reads


def test_every_verdict_has_a_sentence_for_a_child_without_a_number():
    said = [to_a_child(code) for code in WORDS]
    assert len(set(said)) == len(said) and not any(re.search(r"\d", text) for text in said)


@pytest.mark.parametrize(("age", "asked"), [(9, True), (14, True), (15, False)])
def test_children_are_asked_whether_it_was_fun_and_the_answer_is_kept(coach, age, asked):
    student = child(coach, age)
    phone = cast.holder_of(student, guardian=cast.guardian_of(student))
    assert ("Was it fun?" in phone.get("/me/").content.decode()) is asked
    phone.post("/me/practice/", {"key": str(uuid.uuid4()), "minutes": "10", "fun": "3"})
    assert PracticeEntry.objects.get().fun == 3
    assert phone.post("/me/practice/", {"key": str(uuid.uuid4()), "fun": "4"}).status_code == 422


def test_an_adult_by_the_academys_own_age_reads_the_page_as_an_adult(coach):
    Academy.objects.update(adult_age=16)
    page = cast.holder_of(child(coach, 16)).get("/me/").content.decode()
    assert "Ilya, your one thing" in page and "Was it fun?" not in page
