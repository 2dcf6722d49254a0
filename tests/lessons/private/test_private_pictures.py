"""Before and after on the private page: on a page of its own, off at once when the consent goes."""

import pytest
from django.utils import timezone

from academy.consents import withdraw_consent
from lessons.services.media import say_yes
from tests import factories
from tests.factories import keep_picture

from . import cast


@pytest.fixture
def pair(student, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "media"
    say_yes(by=student.coach, student=student, day=timezone.localdate())
    lesson = factories.make_lesson(student=student)
    block = factories.make_block(lesson=lesson)
    return [keep_picture(block=block, phase=phase) for phase in ("before", "after")]


def test_the_first_page_says_that_there_are_pictures_and_loads_none(student, pair):
    page = cast.holder_of(student).get("/me/").content.decode()
    assert "Your pictures: 1 pair" in page and "<img" not in page


def test_the_pair_stands_side_by_side_and_its_files_are_handed_to_the_holder(student, pair):
    phone = cast.holder_of(student)
    page = phone.get("/me/pictures/").content.decode()
    assert page.count('class="pair-half"') == 2
    for row in pair:
        assert f"/me/pictures/{row.code}/" in page
        assert phone.get(f"/me/pictures/{row.code}/").status_code == 200


def test_withdrawing_the_consent_takes_them_away_at_once(student, pair):
    phone = cast.holder_of(student)
    withdraw_consent(by=None, student=student, item="keeping", day=timezone.localdate())
    assert "pictures" not in phone.get("/me/").content.decode()
    page = phone.get("/me/pictures/").content.decode()
    assert "No picture can be shown today" in page and "pair-half" not in page
    assert phone.get(f"/me/pictures/{pair[0].code}/").status_code == 404


def test_another_students_pictures_are_not_there(coach, student, pair):
    other = factories.make_student(coach=coach, name="Somebody Else")
    phone = cast.holder_of(other)
    assert "pair-half" not in phone.get("/me/pictures/").content.decode()
    assert phone.get(f"/me/pictures/{pair[0].code}/").status_code == 404
