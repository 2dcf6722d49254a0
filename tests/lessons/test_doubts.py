"""A number that is possible and unusual is stored and asked about; a mishit that was called explains it."""

import uuid

import pytest
from django.urls import reverse

from lessons.models import Shot
from lessons.queries.doubts import doubt_about
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def block(student):
    return factories.make_block(lesson=factories.make_lesson(student=student, pain_asked=True))


def send(client, block, *, script=True, **values):
    data = {"key": str(uuid.uuid4()), "system": "yards", **values}
    headers = {"X-Parts": "1"} if script else {}
    return client.post(reverse("lessons:ball_add", args=[block.code]), data, headers=headers, follow=not script)


def test_a_drive_of_24_yards_is_stored_and_asked_about(as_coach, block):
    page = send(as_coach, block, carry_m="24").content.decode()
    ball = Shot.objects.get()
    assert "Carry 24 yd is unusual with Driver; 76.6 yd to 350 yd is usual. Is it right?" in page
    assert reverse("lessons:ball", args=[ball.key]) in page and ball.carry_m == pytest.approx(24 * 0.9144)
    assert "Is it right?" not in send(as_coach, block, carry_m="240").content.decode()


def test_without_scripts_the_question_stands_on_the_page(as_coach, block):
    page = send(as_coach, block, script=False, carry_m="24").content.decode()
    assert "Ball 1 is stored. Carry 24 yd is unusual" in page


@pytest.mark.parametrize(("category", "values", "asked"), [
    ("driver", {"carry_m": 69.9}, True), ("driver", {"carry_m": 70.0}, False),
    ("driver", {"carry_m": 20.0, "contact": "top"}, False), ("chip", {"carry_m": 20.0}, False),
    ("putter", {"carry_m": 20.0}, False), ("driver", {"club_path_deg": -20.1}, True),
    ("driver", {"club_path_deg": -20.0}, False), ("driver", {}, False),
])
def test_the_limits_are_asked_about_at_their_edge(block, category, values, asked):
    block.category = category
    assert bool(doubt_about(Shot(block=block, **values), block=block, system="metres")) == asked


def test_a_direction_is_asked_about_without_its_sign_because_both_sides_are_alike(block):
    words = doubt_about(Shot(block=block, club_path_deg=-25.0), block=block, system="yards")
    assert words == "Club path 25° is unusual with Driver; below 20° is usual. Is it right?"
