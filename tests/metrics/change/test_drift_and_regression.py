"""Drift inside a visit, what returns by itself, best against mean, and the player's own responses."""

import math

import numpy as np
import pytest
from scipy import stats

from metrics.change.drift import session_drift, slope_test, split_adaptation
from metrics.change.model import components
from metrics.change.regression import (
    Headline,
    chosen_visit,
    expected_same_day,
    luck_of_best,
    share_kept_same_day,
    shrunk_first_visit,
    why_not_compare,
)
from metrics.change.responses import Outcome, response_size
from tests.metrics.change.blocks import block, path_question, rate_of


@pytest.mark.parametrize("seed", range(4))
def test_the_slope_test_is_scipys(seed):
    rng = np.random.default_rng(seed)
    values = rng.normal(size=24) + 0.1 * np.arange(24)
    expected = stats.linregress(np.arange(24), values)
    assert slope_test(values=values.tolist()) == pytest.approx((expected.slope, expected.pvalue), rel=1e-9)


def test_balls_that_climb_drift_and_steady_ones_do_not():
    noise = np.random.default_rng(1).normal(size=30)
    climbing = session_drift(values=(noise + 0.2 * np.arange(30)).tolist(), swc=1.0, unit="°")
    assert climbing.code == "drift" and climbing.last > climbing.first
    assert "n 30" in climbing.coach.reason
    assert session_drift(values=(0.3 * noise).tolist(), swc=1.0).code == "steady"
    assert session_drift(values=[2.0] * 25, swc=1.0).code == "steady"
    assert session_drift(values=np.arange(25.0).tolist(), swc=1.0).p_slope == 0


def test_tens_that_differ_without_a_steady_slope_have_only_perhaps_drifted():
    values = [3.0, -1.0] * 5 + [4.2, 0.2] * 5
    found = session_drift(values=values, swc=1.0)
    assert found.last - found.first == pytest.approx(1.2) and found.p_slope > 0.05
    assert found.code == "perhaps"


def test_19_balls_are_too_few_to_see_a_drift():
    found = session_drift(values=[*range(19), math.nan], swc=1.0)
    assert found.code == "too_few" and "19, 20 needed" in found.coach.reason


@pytest.mark.simulation
def test_steady_balls_are_called_drifting_in_less_than_one_of_twenty_visits():
    """24 balls, SD 2, smallest change 1: 2,000 visits, Monte-Carlo error 0.5 points."""
    rng = np.random.default_rng(2)
    found = [session_drift(values=values, swc=1.0).code for values in (2 * rng.normal(size=(2000, 24))).tolist()]
    share, error = rate_of(found.count("drift"), 2000)
    assert share <= 0.05 + 3 * error
    apart = sum(code != "steady" for code in found) / 2000
    assert apart > 0.2, "the difference of the tens alone would cry drift in every fourth visit"


def test_adaptation_balls_are_kept_apart_and_none_is_lost():
    adapting, judged = split_adaptation(values=[9, 8, 7, 6, 5, 3, 3, 3])
    assert (adapting, judged) == ((9, 8, 7, 6, 5), (3, 3, 3))
    with pytest.raises(ValueError, match="0 or more"):
        split_adaptation(values=[1], balls=-1)


def test_impossible_input_is_refused():
    for call in (lambda: slope_test(values=[1, 2]), lambda: session_drift(values=[1.0] * 30, swc=0),
                 lambda: luck_of_best(n=0), lambda: share_kept_same_day(n=0, k=0.4),
                 lambda: shrunk_first_visit(seen=1, level_mean=0, s_level=0, n=1, s_w=1, k=0.4)):
        with pytest.raises(ValueError):
            call()


def test_two_thirds_of_a_days_distance_stay_for_the_next_block_that_day():
    assert share_kept_same_day(n=12, k=0.4) == pytest.approx(0.66, abs=0.005)
    assert expected_same_day(long_mean=3, seen=6, n=12, k=0.4) == pytest.approx(3 + 3 * 0.6575, abs=1e-3)


@pytest.mark.simulation
def test_the_next_day_returns_to_the_long_mean_and_the_next_block_only_partly():
    """Worst of eight visits, 20,000 players: Monte-Carlo error of the means 0.01 SD."""
    rng = np.random.default_rng(3)
    days = 0.4 * rng.normal(size=(20_000, 8))
    means = days + rng.normal(size=(20_000, 8)) / math.sqrt(12)
    worst = means.argmax(axis=1)
    rows = np.arange(20_000)
    seen = means[rows, worst].mean()
    again = (days[rows, worst] + rng.normal(size=20_000) / math.sqrt(12)).mean()
    next_day = (0.4 * rng.normal(size=20_000) + rng.normal(size=20_000) / math.sqrt(12)).mean()
    assert again == pytest.approx(expected_same_day(long_mean=0, seen=seen, n=12, k=0.4), abs=0.02)
    assert next_day == pytest.approx(0, abs=0.02) and seen > 0.6


def test_a_new_player_is_pulled_toward_the_level_mean():
    shrunk = shrunk_first_visit(seen=6, level_mean=0, s_level=2, n=12, s_w=2, k=0.4)
    assert shrunk == pytest.approx(6 * 4 / (4 + 0.64 + 4 / 12))


@pytest.mark.parametrize(("n", "luck"), [(1, 0), (5, 1.163), (10, 1.539), (20, 1.867)])
def test_the_best_of_n_is_lucky_by_the_published_spreads(n, luck):
    assert luck_of_best(n=n) == pytest.approx(luck, abs=0.0006)


def test_a_best_is_never_compared_with_a_mean_nor_with_the_best_of_more_balls():
    best, mean = Headline(statistic="best", value=230, n=10), Headline(statistic="mean", value=210, n=10)
    assert "1.5 spreads better" in why_not_compare(before=mean, after=best)
    later = Headline(statistic="best", value=240, n=20)
    assert "more balls make a better best" in why_not_compare(before=best, after=later)
    assert "use the same" in why_not_compare(before=mean, after=Headline(statistic="median", value=210, n=10))
    assert why_not_compare(before=mean, after=Headline(statistic="mean", value=212, n=12)) is None


def test_a_visit_chosen_for_being_the_worst_is_said_to_come_back_by_itself():
    others = [block(d, mean, 1.8, 12) for d, mean in ((1, 4.6), (5, 5.0), (9, 4.8))]
    parts = components(phases=[others], k=0.4)
    found = chosen_visit(question=path_question(), chosen=block(12, 7.5, 1.8, 12), others=others, parts=parts)
    assert found.kind == "worst"
    assert found.returns == pytest.approx(7.5 - 4.8)
    assert "Chosen on the worst of 4 visits" in found.coach.verdict and "2.7° would come back" in found.coach.reason
    best = chosen_visit(question=path_question(), chosen=block(12, 3.0, 1.8, 12), others=others, parts=parts)
    assert best.kind == "best" and best.returns < 0


def test_an_ordinary_day_or_too_few_visits_pass_in_silence():
    others = [block(d, mean, 1.8, 12) for d, mean in ((1, 4.6), (5, 5.0), (9, 4.8))]
    parts = components(phases=[others], k=0.4)
    assert chosen_visit(question=path_question(), chosen=block(12, 5.2, 1.8, 12), others=others, parts=parts) is None
    assert chosen_visit(question=path_question(), chosen=block(12, 9, 1.8, 12), others=others[:1], parts=parts) is None


def outcome(seen, amount=2.0, **more):
    return Outcome(amount=amount, predicted=-2.0, seen=seen, se=0.8, **more)


def test_the_players_own_response_takes_over_as_repeats_come():
    sizes = [response_size(shipped=-1.0, outcomes=[outcome(-4.0)] * n) for n in (0, 1, 3, 9)]
    assert [size.weight for size in sizes] == [0, 0.25, 0.5, 0.75]
    assert [size.per_unit for size in sizes] == pytest.approx([-1.0, -1.25, -1.5, -1.75])


def test_an_unfair_outcome_is_not_learned_from():
    size = response_size(shipped=-1.0, outcomes=[outcome(-9.0, fair=False)])
    assert (size.per_unit, size.repeats) == (-1.0, 0)
    assert "No own result yet" in size.sentence


def test_predicted_and_seen_are_said_with_whether_luck_explains_the_gap():
    near = response_size(shipped=-1.0, outcomes=[outcome(-1.2)], label="path", unit="°")
    far = response_size(shipped=-1.0, outcomes=[outcome(-1.2), outcome(+1.5)], label="path", unit="°")
    assert not near.surprising and "luck alone can explain" in near.sentence
    assert far.surprising and far.sentence.startswith("Foretold −2.0°, seen +1.5° in path: more than luck")
    with pytest.raises(ValueError, match="a change that was made"):
        outcome(-1, amount=0)
