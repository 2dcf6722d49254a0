"""Aids that are leaned on, gains that held, and gains that did not."""

import math

import pytest
from scipy import stats

from metrics.change import Question
from metrics.change.aids import aid_dependency, gives_back
from metrics.change.retention import retention, transfer
from tests.metrics.change.blocks import UPWARD, block, path_question

QUESTION = path_question(balls_needed=8)


def aided(with_mean, without_mean, n=10, sd=1.8, **more):
    return aid_dependency(question=QUESTION, with_aids=block(1, with_mean, sd, n, aids=("sticks",)),
                          without=block(1, without_mean, sd, n), aid_first=True, **more)


def test_good_with_sticks_only_leans_on_them_by_the_distance_from_the_window():
    found = aided(3.0, 5.4)
    assert found.code == "leans"
    assert found.d == pytest.approx(1.4)
    assert found.p > 0.99
    assert "With aids +3.0° (n 10), without +5.4° (n 10)" in found.coach.reason
    assert "five" in found.coach.next_step.lower()
    assert found.student.verdict == "The swing can do it; the aim isn’t yours yet"
    assert "came first" in found.coach.reason


def test_in_the_window_both_ways_is_free_of_the_aids():
    found = aided(2.9, 3.3)
    assert (found.code, found.d, found.coach.verdict) == ("free", 0, "In the window both ways")
    assert found.student.verdict == "You did it without help too"


def test_alike_but_outside_the_window_is_neither_called_the_same_nor_praised():
    found = aided(4.2, 5.1, n=8)
    assert (found.code, found.coach.verdict) == ("free", "No clear difference with and without aids")
    assert found.student.verdict == "About the same with and without help"


def test_a_difference_that_luck_could_make_is_only_perhaps():
    assert aided(4.0, 5.1, sd=4.0).code == "perhaps"


def test_worse_with_the_aids_is_no_dependency():
    found = aided(6.5, 4.5)
    assert found.code == "free" and found.d == pytest.approx(-2.0)
    assert found.coach.verdict == "Nearer the window without the aids"
    assert "2.0° nearer" in found.coach.reason and "less than" not in found.coach.reason


def test_a_carry_has_no_window_and_none_is_spoken_of():
    carry = Question(quantity="carry_m", goal=UPWARD, swc=2.0, k=0.7, balls_needed=8, system="metres")
    for with_mean, code, words in ((150, "leans", "further up"), (144.2, "perhaps", "further up"),
                                   (130, "free", "further up today")):
        found = aid_dependency(question=carry, with_aids=block(1, with_mean, 5.0, 10, aids=("sticks",)),
                               without=block(1, 142, 5.0, 10), aid_first=False)
        said = " ".join((found.coach.verdict, found.coach.reason, found.student.verdict, found.student.reason))
        assert found.code == code and words in said
        assert "window" not in said and "near" not in said


def test_seven_balls_a_side_are_too_few_and_counted():
    found = aided(3.0, 5.4, n=7)
    assert found.code == "too_few" and math.isnan(found.d)
    assert "7 balls with aids and 7 without" in found.coach.reason


def test_aids_are_compared_within_one_visit():
    with pytest.raises(ValueError, match="one visit"):
        aid_dependency(question=QUESTION, with_aids=block(1, 3, 2, 10), without=block(2, 5, 2, 10), aid_first=True)


def kept(later_mean, *, baseline=5.7, end=3.0, n=12, day=8, **conditions):
    return retention(question=QUESTION, baseline=block(1, baseline, 1.8, n), end=block(1, end, 1.8, n, **conditions),
                     later=block(day, later_mean, 1.8, n))


@pytest.mark.parametrize(("later", "code"), [(3.2, "held"), (3.8, "held"), (3.82, "partly"), (4.8, "partly"),
                                            (5.0, "lost"), (6.5, "lost")])
def test_what_was_kept_is_held_partly_or_lost(later, code):
    found = kept(later)
    assert found.code == code
    assert found.ratio == pytest.approx((later - 5.7) / (3.0 - 5.7))
    assert found.lo < found.ratio < found.hi


def test_good_with_sticks_and_gone_next_week():
    found = kept(5.0, aids=("sticks",))
    assert found.code == "lost" and gives_back(ratio=found.ratio)
    assert "+5.7° to +3.0°" in found.coach.reason and "made with aids" in found.coach.reason
    assert found.student.verdict == "Not yours yet"


def test_a_gain_below_the_detectable_one_is_no_gain_to_keep():
    found = kept(4.0, end=4.5)
    assert found.code == "no_gain" and math.isnan(found.ratio)
    assert found.gain < found.detectable
    assert "1.2°, less than the 1.4° that would stand out" in found.coach.reason


def test_moving_away_from_the_window_is_no_gain_to_keep():
    assert kept(9.0, end=9.0).code == "no_gain"


def test_days_away_are_shown_and_a_long_gap_is_said():
    assert "7 days between" in kept(3.2).coach.reason
    assert "three weeks" not in kept(3.2).coach.reason
    assert "three weeks" in kept(3.2, day=30).coach.reason


def test_a_barely_detectable_gain_bounds_nothing():
    found = retention(question=path_question(goal=UPWARD, fixed_k=True), baseline=block(1, 0, 2, 12),
                      end=block(1, 1.62, 2, 12), later=block(8, 1.5, 2, 12))
    assert found.code == "held"
    assert (found.lo, found.hi) == (-math.inf, math.inf)
    assert "no bounds" in found.coach.reason


def test_the_bounds_of_what_was_kept_are_where_the_plain_contrast_reaches_students_limit():
    """At a bound R the contrast later - (1 - R) baseline - R end is exactly t standard errors from 0."""
    baseline, end, later = block(1, 0, 2, 10), block(1, 8, 2, 14), block(8, 5, 2, 12)
    found = retention(question=path_question(goal=UPWARD, fixed_k=True), baseline=baseline, end=end, later=later)
    for r in (found.lo, found.hi):
        contrast = later.mean - (1 - r) * baseline.mean - r * end.mean
        days = 0.8**2 * (1 + 1)
        shots = 4 * (1 / 12 + (1 - r) ** 2 / 10 + r**2 / 14)
        assert abs(contrast) / math.sqrt(days + shots) == pytest.approx(stats.t.ppf(0.975, 33))


def test_too_few_balls_keep_nothing_and_say_how_many():
    found = kept(3.2, n=6)
    assert found.code == "too_few" and "6 in the shortest block, 8 needed" in found.coach.reason
    assert found.student.reason == "6 balls logged in the shortest set."


def test_a_first_ten_under_other_conditions_says_nothing_about_what_held_and_names_them():
    found = retention(question=QUESTION, baseline=block(1, 5.7, 1.8, 12, device="one"),
                      end=block(1, 3.0, 1.8, 12, device="one", aids=("sticks",)),
                      later=block(8, 3.1, 1.8, 12, device="two"))
    assert found.code == "not_alike" and math.isnan(found.ratio)
    assert "device: one before, two after" in found.coach.reason


def test_a_mixed_block_may_hide_its_numbers_and_a_first_ten_may_not():
    blocks = {"baseline": block(1, 5.7, 1.8, 12, feedback_shown=True),
              "end": block(1, 3.0, 1.8, 12, feedback_shown=False)}
    later = block(8, 3.1, 1.8, 12, feedback_shown=False)
    assert transfer(question=QUESTION, mixed=later, **blocks).code == "held"
    assert retention(question=QUESTION, later=later, **blocks).code == "not_alike"


def test_what_the_air_may_be_wrong_by_between_two_days_widens_what_was_kept_and_not_within_a_day():
    blocks = {"baseline": block(1, 150, 6, 12), "end": block(1, 165, 6, 12)}
    plain, aired = (path_question(goal=UPWARD, swc=4.0, fixed_k=True, model_error=error) for error in (0.0, 5.0))
    narrow, wide = (retention(question=q, later=block(8, 162, 6, 12), **blocks) for q in (plain, aired))
    assert narrow.ratio == wide.ratio and wide.lo < narrow.lo and wide.hi > narrow.hi
    same = [transfer(question=q, mixed=block(1, 162, 6, 12), **blocks) for q in (plain, aired)]
    assert (same[0].lo, same[0].hi) == (same[1].lo, same[1].hi)


def test_transfer_is_the_same_ratio_on_mixed_balls_of_the_same_day():
    blocks = {"baseline": block(1, 5.7, 1.8, 12), "end": block(1, 3.0, 1.8, 12)}
    found = transfer(question=QUESTION, mixed=block(1, 3.6, 1.8, 12), **blocks)
    later = transfer(question=QUESTION, mixed=block(9, 3.6, 1.8, 12), **blocks)
    assert found.ratio == later.ratio == pytest.approx(2.1 / 2.7)
    assert found.hi - found.lo < later.hi - later.lo, "on the same day the day's effect cancels"
    assert "mixed balls" in found.coach.reason and "same day" in found.coach.reason


def test_blocks_out_of_order_are_refused():
    blocks = {"baseline": block(1, 5.7, 1.8, 12), "end": block(1, 3.0, 1.8, 12)}
    with pytest.raises(ValueError, match="later day"):
        retention(question=QUESTION, later=block(1, 3.0, 1.8, 12), **blocks)
    with pytest.raises(ValueError, match="not before it"):
        transfer(question=QUESTION, mixed=block(0, 3.0, 1.8, 12), **blocks)
