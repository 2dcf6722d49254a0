"""A share before and after: playable balls, clean contacts, mishits."""

import math

import pytest
from statsmodels.stats.proportion import confint_proportions_2indep

from metrics.spread import rate, rate_change


@pytest.mark.parametrize(("first", "second"), [((12, 20), (18, 20)), ((0, 10), (3, 10)), ((20, 20), (11, 17))])
def test_the_interval_is_newcombes_from_two_of_wilsons(first, second):
    found = rate_change(before=rate(successes=first[0], trials=first[1]),
                        after=rate(successes=second[0], trials=second[1]))
    lo, hi = confint_proportions_2indep(*second, *first, method="newcomb", compare="diff")
    assert (found.lo, found.hi) == pytest.approx((lo, hi), abs=1e-9)


def test_six_more_of_twenty_are_more_and_three_more_of_twenty_could_be_luck():
    base = rate(successes=10, trials=20)
    assert rate_change(before=base, after=rate(successes=17, trials=20)).word == "more"
    assert rate_change(before=base, after=rate(successes=13, trials=20)).word == "cannot_tell"


def test_a_sure_change_of_less_than_ten_points_is_not_worth_a_word():
    many = rate_change(before=rate(successes=500, trials=1000), after=rate(successes=570, trials=1000))
    assert many.lo > 0 and many.word == "cannot_tell"


def test_fewer_is_the_mirror_of_more():
    less = rate_change(before=rate(successes=17, trials=20), after=rate(successes=10, trials=20))
    more = rate_change(before=rate(successes=3, trials=20), after=rate(successes=10, trials=20))
    assert (less.word, more.word) == ("fewer", "more")
    assert less.lo == pytest.approx(-more.hi)


def test_nine_balls_a_side_are_too_few_and_none_say_nothing():
    assert rate_change(before=rate(successes=0, trials=9), after=rate(successes=9, trials=9)).word == "too_few"
    empty = rate_change(before=rate(successes=0, trials=0), after=rate(successes=9, trials=20))
    assert empty.word == "too_few" and math.isnan(empty.difference)
