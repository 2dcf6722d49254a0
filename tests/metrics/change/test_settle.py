"""What would settle it, and plans that can show what is wanted."""

import pytest

from metrics.change import Goal, judge_change, question_for
from metrics.change.settle import design, smallest_design
from metrics.distributions import normal_cdf
from tests.metrics.change.blocks import block, path_question


def as_promised(question, before, after, settle, mean, each_sd):
    """The verdict after the promised further visits, and after one visit fewer."""
    days = range(200, 200 + settle.visits)
    further = [block(day, mean, each_sd, settle.balls_each) for day in days]
    return [judge_change(question=question, before=before, after=[*after, *more]).code
            for more in (further, further[:-1])]


@pytest.mark.parametrize("seen", (4.0, 5.1))
def test_the_promised_visits_settle_it_and_one_fewer_does_not(seen):
    question = path_question(fixed_k=True)
    before, after = [block(1, 6.0, 2, 12), block(5, 6.0, 2, 12)], [block(20, seen, 2, 12)]
    verdict = judge_change(question=question, before=before, after=after)
    settle = verdict.settle
    assert settle.basis == ("seen" if seen == 4.0 else "window")
    mean = 6.0 - settle.assumed
    enough, one_short = as_promised(question, before, after, settle, mean, 2)
    assert enough in (settle.target, "established") and one_short != settle.target
    assert f"{settle.visits} more visit" in verdict.coach.next_step


def test_the_promised_balls_settle_it_and_one_fewer_does_not():
    question = path_question(fixed_k=True, goal=Goal(upward=-1))
    before = [block(1, 5.0, 2, 30)]
    verdict = judge_change(question=question, before=before, after=[block(8, 3.4, 2, 8)])
    assert (verdict.code, verdict.settle.basis) == ("cannot_tell", "seen")
    codes = [judge_change(question=question, before=before, after=[block(8, 3.4, 2, 8 + balls)]).code
             for balls in (verdict.settle.balls - 1, verdict.settle.balls)]
    assert codes == ["cannot_tell", "likely"]


def test_a_flat_month_is_cannot_tell_with_what_would_settle_it():
    """Means 0.4 apart, detectable 2.0: neither good nor bad news, and a plan."""
    question = path_question()
    may = [block(1, 5.2, 2.3, 12), block(9, 6.2, 2.3, 12)]
    june = [block(32, 4.8, 2.3, 12), block(40, 5.8, 2.3, 12)]
    verdict = judge_change(question=question, before=may, after=june)
    assert verdict.code == "cannot_tell"
    assert verdict.numbers.mdc == pytest.approx(2.0, abs=0.15)
    assert verdict.settle.visits == 3
    assert verdict.coach.reason.endswith("It moved by 0.4°; by luck alone two such sides differ by up to 2.0°.")
    assert verdict.coach.next_step == (
        "If further visits come 1.7° nearer, into the window, 3 more visits of 12 balls would settle it as "
        "“likely kept”.")


def test_where_no_sensible_number_of_visits_would_do_it_says_so():
    verdict = judge_change(question=path_question(goal=Goal(upward=-1)), before=[block(1, 5.0, 6, 12)],
                           after=[block(8, 4.8, 6, 12)])
    assert (verdict.settle.balls, verdict.settle.visits) == (None, None)
    assert "could not tell it from luck" in verdict.coach.next_step
    assert verdict.settle.three_visits > 1.0


def test_one_degree_for_a_scratch_player_needs_three_visits_before_and_after():
    """SD 1.0: one visit each detects 1.4; three against three detect 0.8 and find a true 1.0 in 4 of 5 plans."""
    single = design(s_w=1.0, k=0.4, wanted=1.0, visits_before=1, visits_after=1)
    plan = smallest_design(s_w=1.0, k=0.4, wanted=1.0)
    assert single.detectable == pytest.approx(1.4, abs=0.05)
    assert (plan.visits_before, plan.visits_after, plan.balls_each) == (3, 3, 12)
    assert plan.detectable == pytest.approx(0.79, abs=0.005)
    assert plan.power == pytest.approx(0.80, abs=0.005)


def test_power_is_the_normal_chance_of_the_established_limit():
    plan = design(s_w=2.0, k=0.4, wanted=2.0, visits_before=2, visits_after=2)
    assert plan.power == pytest.approx(normal_cdf(z=2.0 / (plan.detectable / 1.959964) - 1.644854), abs=1e-6)
    assert smallest_design(s_w=10.0, k=0.7, wanted=0.1) is None
    with pytest.raises(ValueError, match="above 0"):
        design(s_w=0, k=0.4, wanted=1, visits_before=1, visits_after=1)


def test_a_settled_verdict_needs_nothing_more():
    question = question_for(quantity="club_path_deg", category="driver", intent="draw")
    verdict = judge_change(question=question, before=[block(1, 8.0, 1, 12)],
                           after=[block(8, 3, 1, 12), block(9, 3, 1, 12)])
    assert (verdict.code, verdict.settle) == ("established", None)
