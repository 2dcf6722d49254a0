"""What a run of a short-game test says, against scipy and statsmodels."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats
from statsmodels.stats.proportion import proportion_confint

from metrics.shortgame.designs import DESIGNS, FOOT_M, YARD_M
from metrics.shortgame.figures import Ball, read
from metrics.shortgame.median import median_interval
from metrics.shortgame.published import published_make


def figures(slug: str, balls: list[Ball]) -> dict:
    return {(f.key, f.target_m): f for f in read(design=DESIGNS[slug], balls=balls)}


def test_putts_made_are_counted_by_distance_with_wilsons_interval():
    balls = [Ball(target_m=feet * FOOT_M, done=i < made) for feet, made in ((4, 6), (5, 5), (8, 3), (10, 2))
             for i in range(7)]
    found = figures("putt_make", balls)
    five = found["made", 5 * FOOT_M]
    assert (five.hits, five.n) == (5, 7)
    assert (five.lo, five.hi) == pytest.approx(proportion_confint(5, 7, method="wilson"))
    assert found["made", None].n == 28


def test_a_published_rate_stands_beside_its_own_distance_only_and_says_how_well_it_is_known():
    balls = [Ball(target_m=feet * FOOT_M, done=True) for feet in (4, 5, 8, 10)]
    found = figures("putt_make", balls)
    assert found["made", 5 * FOOT_M].published.share == 0.77
    assert found["made", 5 * FOOT_M].published.mark == "second-hand"
    assert found["made", 4 * FOOT_M].published is None, "no figure was read for 4 ft"
    assert found["made", None].published is None, "four distances together are nobody's figure"
    assert published_make(distance_m=4.5 * FOOT_M) is None


def test_a_gate_counts_both_sides_apart():
    balls = [Ball(target_m=8 * FOOT_M, side=side) for side in [1] * 7 + [0] * 2 + [-1]]
    found = figures("putt_gate", balls)
    values = [found[key, 8 * FOOT_M].value for key in ("through", "hook_side", "slice_side")]
    assert values == pytest.approx([0.2, 0.1, 0.7])


def test_the_leave_is_a_share_of_the_putt_and_its_spread_has_the_chi_square_interval():
    leaves = [0.3, -0.6, 1.2, 0.0, 0.9, -0.3, 0.6, 0.4, -0.9]
    found = figures("putt_thirty", [Ball(target_m=30 * FOOT_M, value_m=x) for x in leaves])
    percent = [100 * x / (30 * FOOT_M) for x in leaves]
    spread = found["leave_sd", 30 * FOOT_M]
    sd, df = np.std(percent, ddof=1), len(leaves) - 1
    assert spread.value == pytest.approx(sd)
    assert spread.lo == pytest.approx(sd * math.sqrt(df / stats.chi2.ppf(0.975, df)))
    assert spread.hi == pytest.approx(sd * math.sqrt(df / stats.chi2.ppf(0.025, df)))
    assert found["leave_mean", 30 * FOOT_M].value == pytest.approx(np.mean(percent))


def test_chips_count_inside_six_feet_and_take_the_middle_not_the_mean():
    left = [0.5, 0.9, 1.2, 1.5, 1.8, 1.83, 2.5, 3.0, 4.0, 12.0]
    found = figures("chip_ten", [Ball(target_m=15 * YARD_M, value_m=x, clean=x < 3) for x in left])
    assert found["inside", 15 * YARD_M].hits == 5, "1.83 m is outside 6 ft = 1.8288 m"
    assert found["left_median", 15 * YARD_M].value == pytest.approx(1.815)
    assert found["clean", 15 * YARD_M].hits == 7


def test_contact_that_was_not_called_is_not_counted_as_clean():
    found = figures("chip_ten", [Ball(target_m=15 * YARD_M, value_m=1.0) for _ in range(10)])
    assert ("clean", 15 * YARD_M) not in found


def test_wedge_errors_are_shares_of_their_own_target():
    balls = [Ball(target_m=yards * YARD_M, value_m=yards * YARD_M * factor)
             for yards in (30, 50, 70) for factor in (0.9, 1.1)]
    found = figures("wedge", balls)
    assert found["carry_error", None].value == pytest.approx(10.0)
    assert found["carry_bias", None].value == pytest.approx(0.0, abs=1e-9)
    assert found["carry_cv", None].value == pytest.approx(100 * np.std([0.9, 1.1] * 3, ddof=1))
    assert found["carry_cv", 30 * YARD_M].n == 2


def test_a_single_ball_has_no_spread_and_no_ball_no_figures():
    found = figures("putt_thirty", [Ball(target_m=30 * FOOT_M, value_m=0.3)])
    assert math.isnan(found["leave_sd", 30 * FOOT_M].value)
    assert read(design=DESIGNS["putt_make"], balls=[]) == ()


@given(st.lists(st.floats(0, 30), min_size=6, max_size=40))
def test_a_medians_interval_is_that_of_scipys_quantile_test(values):
    found = median_interval(values=values)
    outside = stats.quantile_test(values, q=0, p=0.5).confidence_interval(0.95)
    assert (found.lo, found.hi) == pytest.approx((outside.low, outside.high))
    assert found.median == pytest.approx(np.median(values))


def test_five_values_have_a_median_and_no_interval():
    found = median_interval(values=[1, 2, 3, 4, 5])
    assert found.median == 3 and math.isnan(found.lo)
