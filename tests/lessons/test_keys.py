"""Keys that forms bring along: twice the same is one thing, somebody else's ends in a sentence, never in a break."""

import uuid

import pytest
from django.urls import reverse
from django.utils import timezone

from academy.models import HealthFlag
from lessons.models import FollowUp, Lesson
from tests import factories

pytestmark = pytest.mark.django_db
WHOLE = {"club_name": "7i", "intent": "draw", "reading": "calls", "effort_pct": "100", "wanted_balls": "10"}
USED = "This form was used for something else already"


@pytest.fixture
def lesson(student):
    return factories.make_lesson(student=student, pain_asked=True)


@pytest.fixture
def theirs(other_coach):
    """A lesson of somebody else's student."""
    return factories.make_lesson(student=factories.make_student(coach=other_coach, name="Bo Fenwick"))


def test_a_next_block_with_somebody_elses_key_is_refused_on_the_page(as_coach, lesson, theirs):
    block, key = factories.make_block(lesson=lesson), factories.make_block(lesson=theirs).code
    answer = as_coach.post(reverse("lessons:block_next", args=[block.code]), {"key": str(key)})
    page = answer.content.decode()
    assert answer.status_code == 422 and USED in page and 'id="ball-form"' in page
    assert lesson.blocks.count() == 1


def test_a_new_block_with_somebody_elses_key_is_refused_on_its_form(as_coach, lesson, theirs):
    key = factories.make_block(lesson=theirs).code
    answer = as_coach.post(reverse("lessons:block_new", args=[lesson.code]), {**WHOLE, "key": str(key)})
    assert answer.status_code == 422 and USED in answer.content.decode()
    assert not lesson.blocks.exists()


def test_a_finish_with_somebody_elses_key_closes_nothing_and_keeps_what_was_written(as_coach, lesson, theirs):
    sent = FollowUp.objects.create(lesson=theirs, channel="link", text="-", sent_at=timezone.now())
    written = {"key": str(sent.code), "next_measure": "Ten balls", "student_note": "Feet first", "private_note": ""}
    answer = as_coach.post(reverse("lessons:finish", args=[lesson.code]), written)
    assert answer.status_code == 422 and USED in answer.content.decode() and "Feet first" in answer.content.decode()
    lesson.refresh_from_db()
    assert lesson.status == Lesson.Status.RUNNING and lesson.student_note == ""


def test_a_word_about_pain_is_stored_whatever_its_key(as_coach, lesson, theirs, student):
    flag = HealthFlag.objects.create(student=theirs.student, area="low_back", severity=2, reported_at=timezone.now())
    said = {"key": str(flag.code), "area": "low_back", "severity": "3"}
    assert as_coach.post(reverse("lessons:pain", args=[lesson.code]), said).status_code == 302
    assert HealthFlag.objects.get(student=student).severity == 3


def test_a_refused_ball_of_a_page_without_scripts_comes_back_in_the_page_with_what_was_typed(as_coach, lesson):
    block = factories.make_block(lesson=lesson)
    factories.make_block(lesson=lesson, club_name="7 iron", category="mid_iron")
    typed = {"key": str(uuid.uuid4()), "system": "yards", "carry_m": "2000", "club_path_deg": "3.5"}
    answer = as_coach.post(reverse("lessons:ball_add", args=[block.code]), typed)
    page = answer.content.decode()
    assert answer.status_code == 422 and "Not stored. Carry: 2000 yd was found; expected 0 to 382.8 yd." in page
    assert "Block 1: Driver" in page and 'value="2000"' in page and 'value="3.5"' in page
    assert not block.shots.exists()


def test_a_refused_ball_of_a_script_is_one_sentence(as_coach, lesson):
    block = factories.make_block(lesson=lesson)
    answer = as_coach.post(
        reverse("lessons:ball_add", args=[block.code]), {"key": "x", "system": "yards", "carry_m": "200"},
        headers={"X-Parts": "1"},
    )
    assert answer.status_code == 422 and answer["Content-Type"].startswith("text/plain")
