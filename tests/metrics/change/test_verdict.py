"""The verdict words on worked lessons."""

import math

import pytest

from metrics.change import Conditions, Goal, Visit, judge_change, judge_today, question_for
from metrics.change.words import WORDS
from tests.metrics.change.blocks import block, path_question


def test_one_visit_each_5_0_to_3_2_is_likely_with_the_published_numbers():
    verdict = judge_change(question=path_question(), before=[block(1, 5.0, 2, 12)], after=[block(8, 3.2, 2, 12)])
    numbers = verdict.numbers
    assert verdict.code == "likely"
    assert numbers.change / -numbers.se == pytest.approx(1.29, abs=0.005)
    assert (numbers.p_toward, numbers.p_worthwhile) == pytest.approx((0.90, 0.72), abs=0.005)
    assert numbers.mdc == pytest.approx(2 * 1.37, abs=0.01)


def test_two_visits_each_5_0_to_3_2_are_established_with_the_published_numbers():
    visits = {"before": [block(1, 5.0, 2, 12), block(4, 5.0, 2, 12)],
              "after": [block(8, 3.2, 2, 12), block(12, 3.2, 2, 12)]}
    fixed = judge_change(question=path_question(fixed_k=True), **visits)
    assert fixed.code == "established"
    assert -fixed.numbers.change / fixed.numbers.se == pytest.approx(1.82, abs=0.005)
    assert fixed.numbers.p_toward == pytest.approx(0.97, abs=0.005)
    learned = judge_change(question=path_question(), **visits)
    assert learned.numbers.k < 0.4 and learned.numbers.p_toward > fixed.numbers.p_toward, "steady days were seen"


@pytest.mark.parametrize("mean", (3.0, 3.3))
def test_a_draw_player_whose_path_comes_into_the_window_is_likely_then_established(mean):
    question = question_for(quantity="club_path_deg", category="driver", intent="draw")
    first = [block(1, 5.7, 1.8, 10)]
    once = judge_change(question=question, before=first, after=[block(8, 3.0, 1.9, 10)])
    assert (once.code, once.word) == ("likely", "Likely kept")
    twice = judge_change(question=question, before=first, after=[block(8, 3.0, 1.9, 10), block(15, mean, 1.9, 10)])
    assert twice.code == "established"


def test_the_same_gain_within_one_visit_is_only_better_today():
    question = question_for(quantity="club_path_deg", category="driver", intent="draw")
    verdict = judge_today(question=question, before=block(1, 5.7, 1.8, 10), after=block(1, 3.3, 2.0, 10))
    assert verdict.code == "better_today"
    spoken = " ".join([*vars(verdict.coach).values(), *vars(verdict.student).values()]).lower()
    assert "improve" not in spoken
    assert "next visit" in spoken


def test_inside_the_window_nothing_needs_changing():
    question = question_for(quantity="club_path_deg", category="driver", intent="draw")
    verdict = judge_change(question=question, before=[block(1, 2.8, 1.2, 10)], after=[block(8, 3.4, 1.2, 10)])
    assert (verdict.code, verdict.settle) == ("in_window", None)
    assert "Nothing needs changing" in verdict.coach.reason


def test_less_path_is_no_progress_for_a_player_already_below_the_window():
    verdict = judge_change(question=path_question(), before=[block(1, 0.0, 2, 12)], after=[block(8, -3.0, 2, 12)])
    assert verdict.code == "slipped"


def test_going_out_of_the_far_side_is_overshot_and_not_progress():
    verdict = judge_change(question=path_question(), before=[block(1, 5.7, 1.8, 12)],
                           after=[block(8, 0.4, 1.8, 12), block(15, 0.5, 1.8, 12)])
    assert verdict.code == "overshot"
    assert verdict.numbers.progress == pytest.approx(1.7 - 1.55, abs=1e-6)


def test_progress_is_capped_at_the_window():
    deep = judge_change(question=path_question(), before=[block(1, 5.7, 1.8, 12)], after=[block(8, 2.5, 1.8, 12)])
    edge = judge_change(question=path_question(), before=[block(1, 5.7, 1.8, 12)], after=[block(8, 4.0, 1.8, 12)])
    assert deep.numbers.progress == pytest.approx(edge.numbers.progress) == pytest.approx(1.7)


def test_starting_less_than_a_worthwhile_change_outside_nothing_can_be_gained():
    verdict = judge_change(question=path_question(), before=[block(1, 4.8, 1, 20)], after=[block(8, 2.5, 1, 20)])
    assert verdict.code == "in_window"


@pytest.mark.parametrize("after", (7.0, -1.0))
def test_leaving_the_window_on_either_side_is_slipped(after):
    verdict = judge_change(question=path_question(), before=[block(1, 3.0, 1.5, 12)], after=[block(8, after, 1.5, 12)])
    assert verdict.code == "slipped"


def test_a_gain_too_small_to_matter_is_not_claimed_however_sure():
    many = [block(day, 5.0, 0.2, 30) for day in (1, 2, 3)]
    later = [block(day, 4.2, 0.2, 30) for day in (8, 9, 10)]
    verdict = judge_change(question=path_question(), before=many, after=later)
    assert verdict.numbers.p_toward > 0.99
    assert verdict.code == "cannot_tell"


def test_one_later_visit_gained_and_one_not_is_never_established():
    visits = {"before": [block(1, 5.0, 1, 12)], "after": [block(8, 1.0, 1, 12), block(15, 5.2, 1, 12)]}
    question = path_question(goal=Goal(upward=-1), fixed_k=True)
    verdict = judge_change(question=question, **visits)
    assert verdict.numbers.p_toward > 0.95
    assert verdict.code == "likely"
    assert judge_change(question=path_question(), **visits).code == "cannot_tell", "restless days widen the error"


def test_four_balls_are_counted_and_no_mean_is_given():
    verdict = judge_change(question=path_question(balls_needed=10), before=[block(1, 5, 2, 12)],
                           after=[block(8, 3, 2, 4)])
    assert (verdict.code, verdict.numbers) == ("cannot_tell", None)
    assert verdict.student.reason == "4 balls logged."
    assert "Hit 6 more balls" in verdict.coach.next_step


def test_a_short_visit_among_full_ones_is_left_out_and_named():
    verdict = judge_change(question=path_question(), before=[block(1, 5, 2, 12)],
                           after=[block(8, 3, 2, 12), block(9, 30, 2, 3)])
    assert verdict.numbers.balls_after == (12,)
    assert verdict.notes == ("A visit with 3 balls was left out: 8 are needed.",)


def test_two_blocks_of_one_day_are_one_visit():
    halves = [block(8, 3.0, 2, 12), block(8, 3.0, 2, 10)]
    verdict = judge_change(question=path_question(), before=[block(1, 5.8, 2, 12)], after=halves)
    assert verdict.numbers.balls_after == (22,)
    assert verdict.code == "likely", "one later day can never be established"


def test_the_error_of_the_model_behind_a_carry_widens_the_standard_error():
    question = question_for(quantity="carry_m", category="driver", intent="straight", typical=200)
    unsure = question_for(quantity="carry_m", category="driver", intent="straight", typical=200, model_error=6.0)
    visits = {"before": [block(1, 200, 8, 12)], "after": [block(8, 214, 8, 12)]}
    plain, widened = (judge_change(question=q, **visits) for q in (question, unsure))
    assert widened.numbers.se == pytest.approx(math.hypot(plain.numbers.se, 6.0))
    assert (plain.code, widened.code) == ("likely", "likely")
    smaller = {"before": [block(1, 200, 8, 12)], "after": [block(8, 211, 8, 12)]}
    assert [judge_change(question=q, **smaller).code for q in (question, unsure)] == ["likely", "cannot_tell"]


def test_days_away_are_counted_from_the_latest_visit_before():
    verdict = judge_change(question=path_question(), before=[block(1, 5, 2, 12), block(5, 5, 2, 12)],
                           after=[block(30, 3, 2, 12)])
    assert verdict.days_since == 25


def test_days_out_of_order_and_impossible_input_are_refused_with_a_sentence():
    with pytest.raises(ValueError, match="later days"):
        judge_change(question=path_question(), before=[block(8, 5, 2, 12)], after=[block(8, 3, 2, 12)])
    with pytest.raises(ValueError, match="one day are needed"):
        judge_today(question=path_question(), before=block(1, 5, 2, 12), after=block(2, 3, 2, 12))
    with pytest.raises(ValueError, match="at least one visit"):
        judge_change(question=path_question(), before=[], after=[block(8, 3, 2, 12)])
    with pytest.raises(ValueError, match="3 values came with 1 ids"):
        Visit(day=1, values=(1, 2, 3), ids=("a",))
    with pytest.raises(ValueError, match="must be above 0"):
        path_question(swc=0)


def test_balls_without_any_spread_do_not_divide_by_zero():
    same = Visit(day=1, values=(5.0,) * 12)
    verdict = judge_change(question=path_question(), before=[same], after=[Visit(day=8, values=(3.0,) * 12)])
    assert verdict.code == "likely"


def test_every_word_has_a_name_and_none_says_improved():
    assert len(WORDS) == 7
    assert not any("improv" in word.lower() for word in WORDS.values())


def test_balls_hit_with_aids_at_the_later_visit_prove_nothing():
    verdict = judge_change(question=path_question(), before=[block(1, 6, 1, 12)],
                           after=[block(8, 3, 1, 12, aids=("sticks",))])
    assert (verdict.code, verdict.numbers) == ("cannot_tell", None)
    assert "aids (sticks)" in verdict.coach.reason
    assert Conditions(aids=("sticks",)).aids


def test_two_lessons_of_one_day_with_another_ball_are_one_visit_and_the_ball_is_named():
    before = [block(1, 5.7, 2.0, 12, ball_type="range"), block(1, 5.5, 2.0, 10, ball_type="premium")]
    verdict = judge_change(question=path_question(), before=before, after=[block(9, 3.0, 2.0, 12, ball_type="range")])
    assert verdict.numbers.balls_before == (22,)
    assert any("ball type may differ" in note for note in verdict.notes)
