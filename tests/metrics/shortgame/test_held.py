"""Whether a number of the short game held: one later run never says so."""

import random

import pytest

from metrics.shortgame.figures import share
from metrics.shortgame.held import judge_runs, within

BALLS = 28


def holed(hits: int, n: int = BALLS):
    return share(key="made", label="Holed", hits=hits, n=n)


def test_one_run_that_is_better_is_not_called_kept():
    found = judge_runs(before=holed(6), after=[holed(22)])
    assert found.code == "cannot_tell" and found.change.word == "better"


def test_two_runs_in_a_row_that_are_better_are_likely_kept():
    assert judge_runs(before=holed(6), after=[holed(20), holed(22)]).code == "likely"


def test_a_good_run_followed_by_one_like_before_is_not_kept():
    assert judge_runs(before=holed(6), after=[holed(22), holed(7)]).code == "cannot_tell"


def test_a_newest_run_that_is_worse_has_slipped():
    assert judge_runs(before=holed(22), after=[holed(23), holed(6)]).code == "slipped"


def test_where_nothing_was_run_since_nothing_is_claimed():
    found = judge_runs(before=holed(22), after=[])
    assert (found.code, found.change) == ("cannot_tell", None)


def test_a_number_that_was_and_is_where_it_is_wanted_is_in_the_window():
    assert judge_runs(before=holed(20), after=[holed(21)], lower=60).code == "in_window"
    assert judge_runs(before=holed(10), after=[holed(21)], lower=60).code != "in_window"


def test_limits_are_per_cent_and_their_ends_belong_to_them():
    assert within(holed(14), lower=50, upper=None) and within(holed(14), lower=None, upper=50)
    assert not within(holed(14), lower=51, upper=None)
    assert not within(holed(14), lower=None, upper=None)


def test_a_player_who_does_not_change_is_seldom_called_likely():
    rng, called = random.Random(8), 0
    for _ in range(2000):
        runs = [holed(sum(rng.random() < 0.5 for _ in range(BALLS))) for _ in range(3)]
        called += judge_runs(before=runs[0], after=runs[1:]).code == "likely"
    assert called / 2000 == pytest.approx(0.008, abs=0.008)
