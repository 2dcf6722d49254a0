"""The student's page is a plain-worded cut of the coach's: the same balls, the same verdict, the same means."""

import re

import pytest

from lessons.queries.held import held_for
from tests import factories
from tests.lessons.private import cast
from tests.lessons.progress.records import block, prescribe, text_of, visit

WORDS = {"established": "Established", "likely": "Likely kept", "cannot_tell": "Can’t tell yet",
         "slipped": "Slipped", "overshot": "Overshot", "in_window": "In your window"}
STORIES = {
    "established": ((40, 5.7), (26, 3.0), (12, 3.1)), "likely": ((40, 5.7), (12, 3.0)),
    "cannot_tell": ((40, 5.0), (12, 4.6)), "slipped": ((40, 5.2), (12, 9.5)), "overshot": ((40, 5.7), (12, -2.0)),
    "in_window": ((40, 3.0), (12, 3.2)),
}


@pytest.fixture(params=["right", "left"])
def player(request, student):
    student.hand, student.handicap_index = request.param, 9.0
    student.save()
    return student


def mine(student) -> str:
    page = cast.holder_of(student).get("/me/").content.decode()
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", page))


@pytest.mark.parametrize("code", STORIES)
def test_the_student_reads_the_verdict_that_the_coach_reads(as_coach, player, code):
    for place, (days_ago, mean) in enumerate(STORIES[code]):
        made = block(visit(player, days_ago=days_ago), mean=mean)
        if not place:
            prescribe(made)
    verdict = held_for(student=player).verdict
    assert verdict.code == code
    own = mine(player)
    assert WORDS[code] in text_of(as_coach, player)[:300] and WORDS[code] in own
    assert verdict.student.reason in own and verdict.coach.reason not in own
    assert not any(word in own for word in ("standard error", "in 100", "95%", "detectable"))


def test_the_means_are_of_the_same_balls_mishits_counted_and_left_out(as_coach, player):
    prescribe(block(visit(player, days_ago=30), mean=5.7))
    last = block(visit(player, days_ago=5), mean=3.0, n=9, columns={"carry_m": [200.0] * 9})
    factories.add_balls(block=last, club_path_deg=[20.0], carry_m=[40.0])
    assert "+3.0 +" in text_of(as_coach, player), "the coach's table"
    assert "3.0° in-to-out" in mine(player) and "4.7°" not in mine(player)


def test_two_clubs_of_one_kind_are_not_set_against_each_other(player):
    block(visit(player, days_ago=30), mean=5.7, club_name="7 iron", category="mid_iron")
    block(visit(player, days_ago=5), mean=3.0, club_name="6 iron", category="mid_iron")
    assert "5.7°" not in mine(player)


def test_four_balls_are_counted_on_the_students_page_and_nothing_is_averaged(player):
    prescribe(block(visit(player, days_ago=30), mean=5.7))
    block(visit(player, days_ago=5), mean=3.0, n=4)
    assert "4 balls logged" in mine(player) and "3.0°" not in mine(player)
