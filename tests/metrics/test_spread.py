"""Scatter: mishits, spreads, ellipse and shares."""

import math

import numpy as np
import pytest
from scipy import stats

from metrics.change import Goal, Question
from metrics.change.spread_words import rate_sentence, spread_sentences
from metrics.spread import brown_forsythe, landing_ellipse, playable, rate, spread_change, tag_mishits

CARRY = [210, 205, 118, 214, 200, 221, 130, 207]
QUESTION = Question(quantity="face_angle_deg", goal=Goal(upward=1), swc=0.8, k=0.4, balls_needed=10)


def exact(sd, n, seed=1):
    x = np.random.default_rng(seed).normal(size=n)
    return sd * (x - x.mean()) / x.std(ddof=1)


def test_a_ball_below_60_per_cent_of_the_own_median_is_a_mishit():
    assert tag_mishits(carry_m=CARRY).tolist() == [False, False, True, False, False, False, False, False]
    assert tag_mishits(carry_m=CARRY, typical_carry_m=220).sum() == 2


def test_a_thin_smash_is_a_mishit_even_where_carry_was_not_measured():
    smash = [1.45, 1.46, 1.44, 1.20, math.nan]
    assert tag_mishits(smash_factor=smash, carry_m=[200, 200, 200, math.nan, math.nan]).tolist() == [
        False, False, False, True, False]


def test_mishits_change_the_spread_and_are_not_deleted():
    carry = np.array(CARRY, dtype=float)
    tagged = tag_mishits(carry_m=carry)
    assert carry[~tagged].std() < carry.std()
    assert tagged.size == carry.size


def test_mishits_need_carry_or_smash_of_one_length():
    with pytest.raises(ValueError, match="carry or smash"):
        tag_mishits()
    with pytest.raises(ValueError, match="one length"):
        tag_mishits(carry_m=[1, 2], smash_factor=[1.4])


@pytest.mark.parametrize(("n", "needed"), [(20, 1.59), (30, 1.45)])
def test_the_ratio_needed_before_a_spread_has_changed_is_as_tabled(n, needed):
    below, above = (spread_change(before=[exact(needed + step, n)], after=[exact(1.0, n, 2)])
                    for step in (-0.05, 0.05))
    assert below.word == "cannot_tell"
    assert above.word == "tighter"
    mirrored = spread_change(before=[exact(1.0, n)], after=[exact(needed + 0.05, n, 2)])
    assert mirrored.word == "wider"
    assert mirrored.lo == pytest.approx(1 / above.hi)


def test_19_balls_claim_no_tighter_spread_however_large_the_change():
    change = spread_change(before=[exact(9, 19)], after=[exact(1, 30)])
    assert change.word == "too_few"
    coach, student = spread_sentences(change=change, question=QUESTION)
    assert "19 before" in coach.reason and "20 a side" in coach.reason
    assert "30 balls logged" in student.reason


def test_a_different_day_is_not_a_wider_swing():
    restless = [exact(1.0, 12) + 8, exact(1.0, 12, 3) - 8]
    assert spread_change(before=[exact(1.0, 24)], after=restless).ratio == pytest.approx(1.0)


@pytest.mark.parametrize("seed", range(5))
def test_brown_forsythe_agrees_with_scipy(seed):
    rng = np.random.default_rng(seed)
    first, second = rng.normal(size=14), 1.6 * rng.normal(size=25)
    assert brown_forsythe(before=[first], after=[second]) == pytest.approx(
        stats.levene(first, second, center="median").pvalue, rel=1e-9)


def test_brown_forsythe_says_nothing_without_balls_or_spread():
    assert math.isnan(brown_forsythe(before=[[1.0]], after=[[1.0, 2.0]]))
    assert math.isnan(brown_forsythe(before=[[1.0, 1.0]], after=[[2.0, 2.0]]))
    assert math.isnan(spread_change(before=[], after=[]).ratio)


def test_no_ellipse_below_20_balls():
    side, carry = exact(5, 19), exact(6, 19, 2) + 150
    assert landing_ellipse(side_m=side, carry_m=carry) is None
    assert landing_ellipse(side_m=[*side, math.nan], carry_m=[*carry, 150]) is None


def test_the_ellipse_is_the_prediction_region_of_the_f_distribution():
    rng = np.random.default_rng(4)
    n, points = 25, rng.multivariate_normal([3, 150], [[25, 6], [6, 64]], size=25)
    ellipse = landing_ellipse(side_m=points[:, 0], carry_m=points[:, 1], level=0.9)
    limit = 2 * (n - 1) * (n + 1) / (n * (n - 2)) * stats.f.ppf(0.9, 2, n - 2)
    inverse = np.linalg.inv(np.cov(points, rowvar=False))
    side, carry = ellipse.outline()
    gap = np.column_stack([side, carry]) - points.mean(axis=0)
    assert np.einsum("ij,jk,ik->i", gap, inverse, gap) == pytest.approx(np.full(len(side), limit), rel=1e-9)
    assert ellipse.half_long_m > ellipse.half_short_m > 0
    eye = np.sqrt(stats.chi2.ppf(0.9, 2) * np.linalg.eigvalsh(np.cov(points, rowvar=False))[1])
    assert ellipse.half_long_m > 1.05 * eye, "a small sample needs more room than the naked sample ellipse"


def test_a_left_handers_ellipse_leans_the_other_way():
    rng = np.random.default_rng(4)
    side, carry = rng.multivariate_normal([3, 150], [[25, 16], [16, 64]], size=30).T
    right, left = landing_ellipse(side_m=side, carry_m=carry), landing_ellipse(side_m=-side, carry_m=carry)
    assert (left.side_m, left.turn_deg) == pytest.approx((-right.side_m, -right.turn_deg))


def test_playable_counts_both_sides_up_to_the_width():
    found = playable(side_m=[0, 15, -16, 17, math.nan], carry_m=200, share=0.08)
    assert (found.successes, found.trials) == (3, 4)
    with pytest.raises(ValueError, match="above 0"):
        playable(side_m=[1], carry_m=0, share=0.08)


def test_a_rate_is_read_with_its_count_and_bounds():
    assert rate_sentence(rate=rate(successes=12, trials=20), what="playable") == (
        "12 of 20 playable: 60 %, could be 39 to 78 %.")
    assert rate_sentence(rate=rate(successes=0, trials=0), what="playable") == "No balls yet."


def test_a_tighter_spread_is_said_with_numbers_to_the_coach_and_without_to_the_student():
    change = spread_change(before=[exact(3.4, 24)], after=[exact(1.7, 24, 2)])
    coach, student = spread_sentences(change=change, question=QUESTION)
    assert coach.verdict == student.verdict == "Tighter"
    assert "3.4° before (n 24), 1.7° after (n 24): 0.50 times" in coach.reason
    assert not any(character.isdigit() for character in student.reason)
