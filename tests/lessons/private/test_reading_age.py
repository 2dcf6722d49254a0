"""Plain words: the pages of the student's side are measured, and so are the library's sentences for players."""

from datetime import timedelta

import pytest
from django.utils import timezone

from academy.models import HealthFlag
from tests import factories
from tests.library.shipped import shipped_library

from . import cast
from .reading_age import grade, grade_of, sentences_of

MOST = 6.0
"""A reader of the sixth grade is about eleven. Measured when this was written: 4.0 to 5.6, so about ten."""


def test_the_formula_gives_the_published_example():
    """The encyclopaedia's worked example of the index: 639 letters, 119 words, 5 sentences, grade 14.5."""
    assert grade(letters=639, words=119, sentences=5) == pytest.approx(14.5, abs=0.05)


def test_long_words_read_harder_than_short_ones():
    assert grade_of(["The cat sat on the mat."]) < grade_of(["Considerable circumspection characterises committees."])


def page_for(coach, age, address="/me/"):
    born = timezone.localdate() - timedelta(days=round(age * 365.25) + 20)
    student = factories.make_student(coach=coach, name="Ilya Reed", born_on=born, practice_minutes_week=60)
    cast.whole_story(student)
    HealthFlag.objects.create(student=student, area="elbow", severity=5, reported_at=timezone.now())
    guardian = cast.guardian_of(student) if age < 18 else None
    return cast.holder_of(student, guardian=guardian).get(address).content.decode()


@pytest.mark.parametrize("age", [9, 12, 30])
@pytest.mark.parametrize("address", ["/me/", "/me/kept/", "/me/concern/"])
def test_a_page_asks_for_no_more_than_the_sixth_grade(coach, age, address):
    said = sentences_of(page_for(coach, age, address))
    assert len(said) >= 5 and grade_of(said) <= MOST


def test_what_a_pattern_means_is_said_to_the_player_in_the_words_of_the_sixth_grade():
    plain = [pattern.plain for pattern in shipped_library().patterns.values()]
    assert all(plain)
    said = [part for text in plain for part in text.split(". ")]
    assert grade_of(said) <= MOST
