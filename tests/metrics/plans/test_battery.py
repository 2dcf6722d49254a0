"""What the first visit asks, and when the battery is due again."""

from datetime import date

import pytest

from metrics.plans.battery import ASKED, BODY, LOOKS, MEASURES, concerns, due_between
from metrics.shortgame.designs import DESIGNS

YES_NO = [one.key for one in BODY if one.answer == "yes_no"]


@pytest.mark.parametrize("key", YES_NO)
def test_any_single_yes_about_the_body_asks_for_a_clinician(key):
    answers = dict.fromkeys(YES_NO, "no") | {key: "yes"}
    assert concerns(answers) == (key,)


def test_all_no_asks_for_nobody_and_neither_does_silence():
    assert concerns(dict.fromkeys(YES_NO, "no")) == ()
    assert concerns({}) == ()


def test_a_clinicians_yes_answers_them_all():
    assert concerns({"heart": "yes", "faint": "yes", "cleared": "yes"}) == ()
    assert concerns({"heart": "yes", "cleared": "no"}) == ("heart",)


def test_words_about_injuries_are_no_yes():
    assert concerns({"injuries": "yes"}) == ()


def test_seven_questions_of_readiness_are_there_besides_balance_and_pregnancy():
    assert len(YES_NO) == 7 + 3


def test_it_is_due_from_eight_to_twelve_weeks_after_it_was_finished():
    first, last = due_between(finished_on=date(2026, 3, 1))
    assert ((first - date(2026, 3, 1)).days, (last - date(2026, 3, 1)).days) == (56, 84)


def test_every_measure_is_ten_balls_of_a_club_or_of_a_test_that_exists():
    for one in MEASURES:
        assert bool(one.design) != bool(one.category)
        assert one.balls == 10 and (not one.design or DESIGNS[one.design].balls == one.balls)


def test_full_swings_belong_to_the_first_visit_so_that_the_second_is_gentle():
    assert {one.visit for one in MEASURES if one.full_swing} == {1}
    assert {one.visit for one in MEASURES if not one.full_swing} == {2}


def test_no_key_is_used_twice():
    for kind in (ASKED + BODY, LOOKS, MEASURES):
        keys = [one.key for one in kind]
        assert len(keys) == len(set(keys))
