"""Intervals of one block of balls, against scipy and statsmodels."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats
from statsmodels.stats.proportion import proportion_confint

from metrics.intervals import (
    MAD_TO_SD,
    mad,
    mean_estimate,
    means_with_intervals,
    sd_interval,
    trimmed_mean,
    wilson_interval,
)

BLOCK = [5.1, 3.9, 7.2, 4.4, 6.0, 2.7, 5.5, 6.3]


@pytest.mark.parametrize("level", (0.8, 0.95))
@pytest.mark.parametrize("n", (2, 3, 5, 8))
def test_the_mean_interval_is_scipys_t_interval(n, level):
    values = BLOCK[:n]
    estimate = mean_estimate(values=values, level=level)
    lo, hi = stats.t.interval(level, n - 1, loc=np.mean(values), scale=stats.sem(values))
    assert (estimate.lo, estimate.hi) == pytest.approx((lo, hi), rel=1e-10)
    assert estimate.n == n
    assert estimate.sd == pytest.approx(np.std(values, ddof=1))


@pytest.mark.parametrize(("n", "half_width_in_sd"), [
    (3, 2.48), (5, 1.24), (8, 0.84), (10, 0.72), (12, 0.64), (15, 0.55), (20, 0.47), (30, 0.37)])
def test_the_half_width_shrinks_with_the_balls_as_tabled(n, half_width_in_sd):
    values = np.linspace(0, 1, n)
    estimate = mean_estimate(values=values)
    assert (estimate.hi - estimate.mean) / estimate.sd == pytest.approx(half_width_in_sd, abs=0.0061)


def test_a_table_of_rows_gives_scipys_interval_for_each_row():
    table = np.array([BLOCK, BLOCK[::-1], [2.0 * value - 1 for value in BLOCK]])
    means, sds, los, his = means_with_intervals(table=table, level=0.9)
    for row, mean, sd, lo, hi in zip(table, means, sds, los, his, strict=True):
        expected = stats.t.interval(0.9, len(row) - 1, loc=np.mean(row), scale=stats.sem(row))
        assert (lo, hi) == pytest.approx(expected, rel=1e-10)
        assert (mean, sd) == pytest.approx((np.mean(row), np.std(row, ddof=1)))


@pytest.mark.parametrize(("table", "words"), [
    (np.zeros(4), "two columns or more"), (np.zeros((2, 1)), "two columns or more"),
    (np.array([[1.0, math.nan]]), "without gaps"), (np.array([[1.0, math.inf]]), "without gaps")])
def test_a_table_with_gaps_or_without_a_spread_is_refused(table, words):
    with pytest.raises(ValueError, match=words):
        means_with_intervals(table=table)


def test_balls_without_the_number_are_not_counted():
    with_gaps = mean_estimate(values=[math.nan, *BLOCK, math.nan])
    assert with_gaps == mean_estimate(values=BLOCK)


def test_no_ball_and_one_ball_claim_nothing_they_cannot_know():
    none = mean_estimate(values=[math.nan])
    assert none.n == 0 and all(math.isnan(x) for x in (none.mean, none.sd, none.lo, none.hi))
    one = mean_estimate(values=[4.2])
    assert (one.n, one.mean) == (1, 4.2)
    assert all(math.isnan(x) for x in (one.sd, one.lo, one.hi))


def test_an_infinite_ball_is_refused():
    with pytest.raises(ValueError, match="infinite value is not a measurement"):
        mean_estimate(values=[1.0, math.inf])


@pytest.mark.parametrize(("n", "lo", "hi"), [
    (8, 0.66, 2.04), (10, 0.69, 1.83), (12, 0.71, 1.70), (20, 0.76, 1.46), (30, 0.80, 1.34)])
def test_the_interval_of_a_spread_as_tabled_and_as_scipy(n, lo, hi):
    assert sd_interval(sd=1, n=n) == pytest.approx((lo, hi), abs=0.0051)
    chi2 = [math.sqrt((n - 1) / stats.chi2.ppf(p, n - 1)) for p in (0.975, 0.025)]
    assert sd_interval(sd=2.5, n=n) == pytest.approx([2.5 * c for c in chi2], rel=1e-10)


def test_one_ball_has_no_spread():
    assert all(math.isnan(x) for x in sd_interval(sd=math.nan, n=1))


@given(trials=st.integers(1, 300), data=st.data(), level=st.sampled_from((0.8, 0.9, 0.95)))
def test_wilson_agrees_with_statsmodels(trials, data, level):
    successes = data.draw(st.integers(0, trials))
    expected = proportion_confint(successes, trials, alpha=1 - level, method="wilson")
    assert wilson_interval(successes=successes, trials=trials, level=level) == pytest.approx(expected, abs=1e-12)


def test_twelve_of_twenty_is_anything_from_39_to_78_per_cent():
    lo, hi = wilson_interval(successes=12, trials=20)
    assert (round(lo, 2), round(hi, 2)) == (0.39, 0.78)


@pytest.mark.parametrize(("successes", "trials"), [(3, 2), (-1, 5), (0, -1)])
def test_impossible_counts_are_refused(successes, trials):
    with pytest.raises(ValueError, match="not a count of successes"):
        wilson_interval(successes=successes, trials=trials)


def test_no_trial_has_no_rate():
    assert all(math.isnan(x) for x in wilson_interval(successes=0, trials=0))


@given(st.lists(st.floats(-50, 50), min_size=1, max_size=40), st.sampled_from((0.0, 0.1, 0.2, 0.4)))
def test_trimmed_mean_and_mad_agree_with_scipy(values, share):
    assert trimmed_mean(values=values, share=share) == pytest.approx(stats.trim_mean(values, share), abs=1e-9)
    assert mad(values=values) == pytest.approx(stats.median_abs_deviation(values), abs=1e-12)


def test_one_wild_ball_moves_neither_robust_number():
    wild = [*BLOCK[:-1], 500.0]
    assert trimmed_mean(values=wild) == pytest.approx(trimmed_mean(values=BLOCK), abs=0.3)
    assert mad(values=wild) == pytest.approx(mad(values=BLOCK), abs=0.3)


def test_the_mad_scale_is_the_normal_quartile():
    assert pytest.approx(1 / stats.norm.ppf(0.75)) == MAD_TO_SD


@pytest.mark.parametrize("call", [
    lambda: mean_estimate(values=BLOCK, level=1.0), lambda: sd_interval(sd=-1, n=5),
    lambda: trimmed_mean(values=BLOCK, share=0.5)])
def test_impossible_settings_are_refused(call):
    with pytest.raises(ValueError):
        call()
