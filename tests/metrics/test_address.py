"""Ten setups without a ball: bias and spread, with the pass mark; against scipy and statsmodels."""

import numpy as np
import pytest
from scipy import stats
from statsmodels.stats.proportion import proportion_confint

from metrics.address import PASS_MARKS, SHOULDERS_TO_FEET, PassMark, address_check

FEET = [1.0, 2.5, -1.0, 4.0, 0.5, 2.0, 3.5, 1.5, 0.0, 2.0]


def test_bias_and_spread_carry_their_intervals():
    found = address_check(checkpoint="feet_deg", values=FEET, wanted=0)
    lo, hi = stats.ttest_1samp(FEET, 0).confidence_interval()
    assert (found.bias, found.bias_lo, found.bias_hi) == pytest.approx((np.mean(FEET), lo, hi))
    sd = np.std(FEET, ddof=1)
    edges = sd * np.sqrt(9 / stats.chi2.ppf([0.975, 0.025], 9))
    assert (found.sd, found.sd_lo, found.sd_hi) == pytest.approx((sd, *edges))


def test_eight_of_ten_within_the_tolerance_pass_and_seven_do_not():
    found = address_check(checkpoint="shoulders_deg", values=FEET, wanted=0)
    assert (found.inside, found.passed) == (8, True)
    assert (found.share_lo, found.share_hi) == pytest.approx(proportion_confint(8, 10, method="wilson"))
    finer = PassMark(tolerance=2.4)
    assert address_check(checkpoint="shoulders_deg", values=FEET, wanted=0, mark=finer).passed is False


def test_aim_passes_by_its_average_error_and_its_spread_and_both_must_hold():
    assert address_check(checkpoint="feet_deg", values=FEET, wanted=0).passed
    assert address_check(checkpoint="feet_deg", values=FEET, wanted=0).mean_error == pytest.approx(1.8)
    off = address_check(checkpoint="feet_deg", values=[value + 1.5 for value in FEET], wanted=0)
    wild = address_check(checkpoint="feet_deg", values=[-2.1, 2.1] * 5, wanted=0)
    assert off.sd < 2 < off.mean_error and off.passed is False
    assert wild.passed is False and wild.sd > 2


def test_one_ball_out_of_ten_beyond_a_centimetre_does_not_pass():
    assert address_check(checkpoint="ball_position_cm", values=[8.9, 7.1] * 5, wanted=8).passed
    assert address_check(checkpoint="ball_position_cm", values=[8.0] * 9 + [9.2], wanted=8).passed is False


def test_shoulders_against_feet_have_a_mark_of_their_own():
    assert PASS_MARKS[SHOULDERS_TO_FEET].tolerance == 3
    assert address_check(checkpoint=SHOULDERS_TO_FEET, values=[2.9] * 8 + [4.0] * 2, wanted=0).passed


def test_fewer_than_ten_setups_neither_pass_nor_fail():
    found = address_check(checkpoint="ball_position_cm", values=[*([8.0] * 9), float("nan")], wanted=8)
    assert (found.n, found.passed, found.sd) == (9, None, 0)


def test_a_number_on_the_edge_counts_as_inside():
    mark = PassMark(tolerance=0.3)
    assert address_check(checkpoint="ball_position_cm", values=[0.1 + 0.2], wanted=0, mark=mark).inside == 1


def test_a_tolerance_finer_than_the_measuring_is_told():
    found = address_check(checkpoint="ball_position_cm", values=[8.0] * 10, wanted=8, measured_within=1.5)
    assert found.within_error and not address_check(
        checkpoint="ball_position_cm", values=[8.0] * 10, wanted=8, measured_within=0.8).within_error


@pytest.mark.parametrize(("checkpoint", "tolerance", "words"), [
    ("elbow_deg", 3, "no checkpoint 'elbow_deg'"), ("feet_deg", 0, "above 0"), ("grip_pressure", None, "above 0"),
])
def test_what_cannot_be_checked_is_refused(checkpoint, tolerance, words):
    mark = None if tolerance is None else PassMark(tolerance=tolerance)
    with pytest.raises(ValueError, match=words):
        address_check(checkpoint=checkpoint, values=[1], wanted=0, mark=mark)
