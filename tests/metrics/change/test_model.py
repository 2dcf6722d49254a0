"""The visit model: its spreads against REML, its tables, its counts."""

import math
import warnings

import numpy as np
import pytest
import statsmodels.formula.api as smf
from pandas import DataFrame
from scipy import stats

from metrics.change.model import (
    change_between,
    components,
    effective_n,
    lag1,
    minimum_detectable,
    same_day,
    standard_error,
)
from metrics.change.settle import design
from metrics.change.visits import Visit, mean_of_visits
from tests.metrics.change.blocks import block, play


def reml(phases):
    """Shot and day SD by restricted maximum likelihood, with the phases as fixed effects."""
    rows = [(phase, visit.day, value) for phase, visits in enumerate(phases) for visit in visits
            for value in visit.balls]
    frame = DataFrame(rows, columns=["phase", "visit", "y"])
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # statsmodels talks about its optimiser
        fit = smf.mixedlm("y ~ C(phase)", frame, groups="visit").fit(reml=True)
    return math.sqrt(fit.scale), math.sqrt(max(float(fit.cov_re.iloc[0, 0]), 0.0))


def phases_of(seed, counts, k):
    rng = np.random.default_rng(seed)
    return [[play(rng, day=100 * p + j, true_mean=3.0 * p, n=n, k=k) for j, n in enumerate(side)]
            for p, side in enumerate(counts)]


@pytest.mark.parametrize("seed", (1, 2, 3, 4))
def test_balanced_visits_give_the_spreads_of_reml(seed):
    """Equal to 0.1 %: for balanced data both are the same estimator; the rest is the optimiser's tolerance."""
    phases = phases_of(seed, [(12,) * 4, (12,) * 5], k=0.8)
    ours = components(phases=phases, k=0.4)
    s_w, s_b = reml(phases)
    assert ours.s_w == pytest.approx(s_w, rel=1e-3)
    assert ours.k_seen * ours.s_w == pytest.approx(s_b, rel=1e-3)


@pytest.mark.parametrize("seed", (1, 2, 3, 4))
def test_unbalanced_visits_come_near_reml(seed):
    """s_w to 1 %, s_b to 15 %: analysis of variance weighs visits by balls, REML by what they tell."""
    phases = phases_of(seed, [(8, 20, 12, 30, 10), (9, 12, 25, 14)], k=0.8)
    ours = components(phases=phases, k=0.4)
    s_w, s_b = reml(phases)
    assert ours.s_w == pytest.approx(s_w, rel=0.01)
    assert ours.k_seen * ours.s_w == pytest.approx(s_b, rel=0.15)


def test_a_taught_change_is_not_read_as_restless_days():
    steady = [[block(1, 0, 2, 12), block(2, 0, 2, 12)], [block(8, 9, 2, 12), block(9, 9, 2, 12)]]
    assert components(phases=steady, k=0.4).k_seen == 0


def test_the_assumed_day_effect_gives_way_to_the_seen_one_as_visits_come():
    gaps = []
    for visits in (2, 5, 20, 80):
        rng, days = np.random.default_rng(5), range(visits)
        seen = components(phases=[[play(rng, day=d, true_mean=0, n=12, k=1.0) for d in days]], k=0.4)
        weight = 4 / (4 + visits - 1)
        assert seen.k**2 == pytest.approx(weight * 0.16 + (1 - weight) * seen.k_seen**2)
        gaps.append(abs(seen.k - seen.k_seen))
    assert gaps[-1] < gaps[0] and gaps[-1] < 0.05


def test_one_visit_keeps_the_assumed_day_effect():
    single = components(phases=[[block(1, 5, 2, 12)]], k=0.7)
    assert (single.k, single.k_seen, single.df) == (0.7, None, 11)
    assert single.s_w == pytest.approx(2)


def test_the_level_s_usual_spread_counts_as_four_balls():
    mixed = components(phases=[[block(1, 5, 2, 9)]], k=0.4, sd_prior=3.0)
    assert mixed.s_w**2 == pytest.approx((8 * 4 + 4 * 9) / 12)
    assert components(phases=[], k=0.4, sd_prior=3.0).s_w == 3.0
    assert math.isnan(components(phases=[], k=0.4).s_w)


@pytest.mark.parametrize(("balls", "detectable"), [
    (5, 1.66), (8, 1.48), (10, 1.41), (12, 1.37), (15, 1.32), (20, 1.27), (30, 1.22)])
def test_one_visit_against_one_detects_what_is_tabled(balls, detectable):
    plan = design(s_w=1, k=0.4, wanted=1, visits_before=1, visits_after=1, balls_each=balls)
    assert plan.detectable == pytest.approx(detectable, abs=0.0061)


@pytest.mark.parametrize(("before", "after", "detectable"), [
    (1, 1, 1.37), (1, 2, 1.18), (2, 2, 0.97), (2, 3, 0.88), (3, 3, 0.79)])
def test_more_visits_detect_what_is_tabled(before, after, detectable):
    plan = design(s_w=1, k=0.4, wanted=1, visits_before=before, visits_after=after)
    assert plan.detectable == pytest.approx(detectable, abs=0.0061)


@pytest.mark.parametrize(("balls", "detectable"), [(8, 0.98), (10, 0.88), (12, 0.80), (20, 0.62)])
def test_within_one_visit_the_day_cancels(balls, detectable):
    parts = same_day(components(phases=[[block(1, 0, 1, 30)]], k=0.4))
    se = standard_error(parts=parts, before=[balls], after=[balls])
    assert minimum_detectable(se=se) == pytest.approx(detectable, abs=0.0051)


def test_the_error_of_unequal_visits_is_that_of_the_mean_of_visit_means():
    parts = components(phases=[[block(1, 0, 2, 12)]], k=0.5)
    se = standard_error(parts=parts, before=[10], after=[8, 20, 12])
    by_hand = 1.0**2 * (1 + 1 / 3) + 4 * (1 / 10 + (1 / 8 + 1 / 20 + 1 / 12) / 9)
    assert se == pytest.approx(math.sqrt(by_hand))


def test_a_long_visit_does_not_outvote_a_short_one():
    visits = [block(1, 2.0, 1, 10), block(2, 4.0, 1, 30)]
    assert mean_of_visits(visits) == pytest.approx(3.0)


def test_balls_that_follow_each_other_count_for_fewer():
    rng = np.random.default_rng(3)
    values, x = [], 0.0
    for push in rng.normal(size=60):
        x = 0.6 * x + push
        values.append(x)
    visit = Visit(day=1, values=tuple(values))
    assert lag1(visits=[visit]) == pytest.approx(np.corrcoef(values[:-1], values[1:])[0, 1], abs=0.03)
    parts = components(phases=[[visit]], k=0.4)
    assert parts.lag1 == lag1(visits=[visit])
    assert effective_n(n=60, lag=0.5) == pytest.approx(20)
    assert standard_error(parts=parts, before=[60], after=[60]) > standard_error(
        parts=components(phases=[[Visit(day=1, values=tuple(sorted(values, key=abs)))]], k=0.4),
        before=[60], after=[60])


def test_weak_or_barely_seen_ball_to_ball_likeness_is_not_applied():
    slope = Visit(day=1, values=tuple(np.arange(12.0).tolist()))
    assert components(phases=[[slope]], k=0.4).lag1 == 0, "eleven pairs are too few to say"


def test_the_interval_is_students_with_the_pooled_degrees_of_freedom():
    before, after = [block(1, 5, 2, 12)], [block(8, 3, 2, 10)]
    parts = components(phases=(before, after), k=0.4)
    change = change_between(before=before, after=after, parts=parts)
    assert (change.lo, change.hi) == pytest.approx(stats.t.interval(0.95, 20, loc=-2, scale=change.se))


def test_impossible_input_is_refused():
    parts = components(phases=[[block(1, 0, 2, 12)]], k=0.4)
    for call in (lambda: components(phases=[], k=-1), lambda: effective_n(n=5, lag=1),
                 lambda: standard_error(parts=parts, before=[], after=[5]),
                 lambda: standard_error(parts=parts, before=[0], after=[5])):
        with pytest.raises(ValueError):
            call()
