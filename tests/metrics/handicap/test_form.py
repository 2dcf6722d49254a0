"""Mean and spread of the last ten rounds, and how much of it is luck."""

import random
import statistics

import pytest
from scipy import stats

from metrics.handicap.form import form_of, luck_between, luck_between_means


def test_a_change_below_three_and_a_half_is_within_luck_at_the_usual_spread():
    assert luck_between_means(sd=4.0, rounds=10) == pytest.approx(3.5, abs=0.01)


def test_two_means_of_ten_differ_by_more_than_the_luck_one_time_in_twenty():
    rng = random.Random(5)
    limit, beyond = luck_between_means(sd=4.0, rounds=10), 0
    for _ in range(4000):
        one, other = (statistics.fmean(rng.gauss(15, 4) for _ in range(10)) for _ in range(2))
        beyond += abs(one - other) > limit
    assert beyond / 4000 == pytest.approx(0.05, abs=0.012)


def test_the_mean_of_the_last_ten_has_students_interval():
    values = [18.2, 15.1, 20.4, 17.7, 16.0, 22.1, 19.3, 14.8, 18.8, 17.2, 16.9, 21.0]
    found = form_of(values)
    expected = stats.t.interval(0.95, 9, loc=statistics.fmean(values[-10:]), scale=stats.sem(values[-10:]))
    assert (found.n, found.mean) == (10, pytest.approx(statistics.fmean(values[-10:])))
    assert (found.lo, found.hi) == pytest.approx(expected)
    assert found.own_sd and found.noise == pytest.approx(luck_between_means(sd=statistics.stdev(values), rounds=10))


def test_four_rounds_are_read_with_the_assumed_spread_and_five_with_their_own():
    assert form_of([10.0, 12.0, 14.0, 11.0]).noise == pytest.approx(3.51, abs=0.01)
    assert not form_of([10.0, 12.0, 14.0, 11.0]).own_sd
    assert form_of([10.0, 12.0, 14.0, 11.0, 13.0]).own_sd


def test_no_round_has_no_form():
    assert form_of([]) is None


def test_no_rounds_have_no_luck_to_speak_of():
    with pytest.raises(ValueError, match="0 rounds"):
        luck_between_means(sd=4, rounds=0)


def test_the_luck_of_two_uneven_sides_is_that_of_ten_where_both_are_ten():
    assert luck_between(sd=4.0, before=10, after=10) == pytest.approx(luck_between_means(sd=4.0, rounds=10))
    rng, limit, beyond = random.Random(6), luck_between(sd=4.0, before=10, after=4), 0
    for _ in range(4000):
        one, other = (statistics.fmean(rng.gauss(15, 4) for _ in range(n)) for n in (10, 4))
        beyond += abs(one - other) > limit
    assert beyond / 4000 == pytest.approx(0.05, abs=0.012)


@pytest.mark.parametrize("wrong", [{"sd": -1.0}, {"before": 0}, {"after": 0}])
def test_luck_of_nothing_is_refused(wrong):
    with pytest.raises(ValueError, match="expected 0 or more"):
        luck_between(**{"sd": 4.0, "before": 10, "after": 10, **wrong})
