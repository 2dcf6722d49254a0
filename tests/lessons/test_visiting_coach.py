"""A coach who gives one lesson of somebody else's student: safe, and told nothing of the student's health."""

import re
import uuid

import pytest
from django.urls import reverse
from django.utils import timezone

from academy.models import HealthFlag
from tests import factories

HEALTH_WORDS = re.compile(
    r"low back|\bpain [0-9]|[0-9] of 10, said|reported pain|reported sore|health comes first", re.I
)


@pytest.fixture
def lesson(student, other_coach):
    """A running lesson of Runa's student that Piet gives, the student's back being sore since yesterday."""
    HealthFlag.objects.create(
        student=student, area="low_back", severity=6, is_new=True, text="since the move", reported_at=timezone.now()
    )
    lesson = factories.make_lesson(
        student=student, coach=other_coach, pain_asked=True, warmed_up=True, played="9 holes", practised="some"
    )
    block = factories.make_block(lesson=lesson)
    factories.add_balls(block=block, club_path_deg=[6.0] * 9, face_angle_deg=[1.0] * 9)
    return lesson


def told(client, lesson) -> str:
    """Everything that the pages of a lesson say, without the question about pain that is asked of everybody."""
    pages = [reverse("lessons:lesson", args=[lesson.code]), reverse("lessons:note", args=[lesson.code])]
    pages += [reverse("lessons:stop", args=[lesson.code, slug]) for slug in
              ("greet", "look", "reason", "change", "with_aids", "without", "agree")]
    pages += [reverse("lessons:drills", args=[lesson.code]), reverse("lessons:reason", args=[lesson.code])]
    pages += [reverse("lessons:lesson_history", args=[lesson.code]), reverse("lessons:today")]
    words = " ".join(client.get(page).content.decode() for page in pages)
    return re.sub(r"<details.*?It hurts somewhere.*?</details>", "", words, flags=re.S)


def test_the_visiting_coach_reads_nothing_of_the_students_health(client, other_coach, lesson):
    client.force_login(other_coach)
    assert not HEALTH_WORDS.findall(told(client, lesson))


def test_the_assigned_coach_reads_it_on_the_same_pages(as_coach, lesson):
    words = told(as_coach, lesson)
    assert "Low back 6 of 10" in words and "Health comes first" in words and "reported pain of 4 or more" in words


def test_the_visiting_coach_is_told_that_the_long_game_is_off_and_who_knows_why(client, other_coach, lesson):
    client.force_login(other_coach)
    words = client.get(reverse("lessons:lesson", args=[lesson.code])).content.decode()
    assert "No long game today" in words and "own coach knows why" in words


def test_drills_that_load_the_sore_area_stay_out_without_a_word(client, coach, other_coach, lesson):
    found = {}
    for who in (coach, other_coach):
        client.force_login(who)
        found[who] = client.get(reverse("lessons:drills", args=[lesson.code])).content.decode()
    offers = {who: set(re.findall(r'name="drill" value="([^"]+)"', page)) for who, page in found.items()}
    assert offers[coach] == offers[other_coach] and offers[coach]
    assert "said about pain" in found[coach] and "said about pain" not in found[other_coach]


def test_what_the_visiting_coach_noted_in_the_lesson_comes_back_with_its_words_of_care(client, other_coach, lesson):
    client.force_login(other_coach)
    values = {"key": str(uuid.uuid4()), "area": "heart", "severity": "2", "red_flag": "on"}
    client.post(reverse("lessons:pain", args=[lesson.code]), values)
    words = client.get(reverse("lessons:stop", args=[lesson.code, "greet"])).content.decode()
    assert "Call 112 now" in words and "Heart, blood pressure or breathing 2 of 10" in words
    assert "Low back 6" not in words


@pytest.mark.parametrize("name", ["academy:health", "lessons:student", "lessons:progress", "lessons:student_archive"])
def test_the_students_own_pages_stay_shut_for_the_visiting_coach(client, other_coach, lesson, name):
    client.force_login(other_coach)
    assert client.get(reverse(name, args=[lesson.student.code])).status_code == 404
