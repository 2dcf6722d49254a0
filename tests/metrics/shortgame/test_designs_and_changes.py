"""Test designs, their error bands, and what two runs may say of each other."""

import math
import random

import pytest
from scipy import stats

from metrics.shortgame.band import error_band
from metrics.shortgame.compare import compare
from metrics.shortgame.designs import DESIGNS, FOOT_M, target_at
from metrics.shortgame.figures import Ball, Figure, read


@pytest.mark.parametrize("design", [d for d in DESIGNS.values() if len(d.stations) > 1], ids=lambda d: d.slug)
def test_a_test_has_fixed_targets_a_random_order_and_27_balls_or_more(design):
    assert design.is_test and design.balls >= 27
    orders = {tuple(target_at(design=design, seed=seed, number=n).amount for n in range(1, design.balls + 1))
              for seed in range(5)}
    assert len(orders) > 1
    for order in orders:
        assert all(order.count(station.amount) == design.each for station in design.stations)


def test_ten_balls_to_one_target_are_not_called_a_test():
    assert not DESIGNS["putt_five"].is_test


def test_a_run_that_is_stopped_early_has_its_targets_even():
    design = DESIGNS["putt_make"]
    first = [target_at(design=design, seed=3, number=n).amount for n in range(1, 10)]
    assert sorted(first[:4]) == sorted(first[4:8]) == [4, 5, 8, 10]


def test_the_same_seed_gives_the_same_target_after_a_reload():
    design = DESIGNS["wedge"]
    assert len({target_at(design=design, seed=11, number=7) for _ in range(3)}) == 1


def test_balls_count_from_one():
    with pytest.raises(ValueError, match="ball 0"):
        target_at(design=DESIGNS["wedge"], seed=1, number=0)


def test_the_band_of_28_putts_is_about_18_points_and_two_runs_need_26():
    band = error_band(design=DESIGNS["putt_make"])
    assert band.below == pytest.approx(0.174, abs=0.005) and not band.of_itself
    assert band.two_runs == pytest.approx(0.262, abs=0.002)


def test_the_band_of_a_wedge_error_holds_95_of_100_times():
    rng, band = random.Random(2), error_band(design=DESIGNS["wedge"])
    true = math.sqrt(2 / math.pi)
    means = [sum(abs(rng.gauss(0, 1)) for _ in range(27)) / 27 for _ in range(4000)]
    inside = sum(abs(mean - true) <= band.below * true for mean in means) / len(means)
    assert inside == pytest.approx(0.95, abs=0.012)


def test_two_runs_of_a_spread_differ_by_luck_within_the_band():
    rng, band = random.Random(4), error_band(design=DESIGNS["putt_pace"])
    def sd() -> float:
        values = [rng.gauss(0, 1) for _ in range(27)]
        return math.sqrt(sum((v - sum(values) / 27) ** 2 for v in values) / 26)
    apart = sum(abs(math.log(sd() / sd())) <= math.log(1 + band.two_runs) for _ in range(3000)) / 3000
    assert apart == pytest.approx(0.95, abs=0.015)


def test_fewer_than_five_balls_have_no_band():
    with pytest.raises(ValueError, match="4 balls"):
        error_band(design=DESIGNS["sand"], balls=4)


def made(hits: int, n: int) -> Figure:
    return read(design=DESIGNS["putt_five"], balls=[Ball(target_m=5 * FOOT_M, done=i < hits) for i in range(n)])[0]


def test_more_holed_putts_are_better_only_where_luck_is_left_out():
    assert compare(before=made(8, 28), after=made(20, 28)).word == "better"
    assert compare(before=made(20, 28), after=made(8, 28)).word == "worse"
    assert compare(before=made(12, 28), after=made(16, 28)).word == "can't tell"


def test_nine_balls_a_side_say_nothing_of_a_share():
    assert compare(before=made(0, 9), after=made(9, 9)) is None


def pace(scale: float, n: int = 27) -> Figure:
    rng = random.Random(8)
    balls = [Ball(target_m=9.0, value_m=rng.gauss(0, scale)) for _ in range(n)]
    return next(f for f in read(design=DESIGNS["putt_thirty"], balls=balls) if f.key == "leave_sd")


def test_a_smaller_spread_is_better_and_its_ratio_has_an_interval():
    found = compare(before=pace(1.2), after=pace(0.5))
    assert found.is_ratio and found.word == "better" and found.hi < 1
    assert compare(before=pace(1.0), after=pace(0.9)).word == "can't tell"


def test_mean_errors_are_compared_as_welch_does():
    rng = random.Random(6)
    one, other = ([rng.gauss(0, s) for _ in range(15)] for s in (0.2, 0.1))
    first, second = (
        next(f for f in read(design=DESIGNS["wedge_fifty"],
                             balls=[Ball(target_m=50.0, value_m=50 * (1 + e)) for e in errors])
             if f.key == "carry_error") for errors in (one, other))
    found = compare(before=first, after=second)
    outside = stats.ttest_ind([100 * abs(e) for e in other], [100 * abs(e) for e in one], equal_var=False)
    interval = outside.confidence_interval(0.95)
    assert (found.lo, found.hi) == pytest.approx((interval.low, interval.high))


def test_different_figures_are_not_compared():
    with pytest.raises(ValueError, match="cannot be compared"):
        compare(before=made(5, 10), after=pace(1.0))
