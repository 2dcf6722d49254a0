"""Like with like: what differs is named, and what would spoil the claim refuses it."""

from dataclasses import replace

import pytest

from metrics.change import Conditions, judge_change, judge_today, question_for
from metrics.change.comparable import differences, split_alike
from tests.metrics.change.blocks import block, path_question

USUAL = Conditions(club="driver", spec="1", intent="draw", effort_pct=100, ball_type="range",
                   venue_type="outdoor_mat", device="radar", feedback_shown=False)
OTHER = {"club": "7i", "spec": "2", "intent": "straight", "aids": ("sticks",), "effort_pct": 80,
         "venue_type": "indoor", "device": "camera", "feedback_shown": True}


def named(quantity, **change):
    return differences(before=USUAL, after=replace(USUAL, **change), quantity=quantity)


@pytest.mark.parametrize("factor", OTHER)
def test_each_unlike_condition_blocks_the_claim_and_is_named(factor):
    [difference] = named("club_path_deg", **{factor: OTHER[factor]})
    assert difference.factor == factor and difference.blocks
    assert difference.sentence.startswith("Not the same")
    assert difference.before != difference.after


def test_nothing_differs_nothing_is_named():
    assert named("carry_m") == ()


def test_another_ball_blocks_the_flight_and_not_the_club():
    assert named("carry_m", ball_type="premium")[0].blocks
    [caution] = named("club_path_deg", ball_type="premium")
    assert not caution.blocks
    assert caution.sentence == "The ball type may differ: range before, premium after."


def test_what_was_not_recorded_is_named_and_does_not_block():
    [caution] = named("carry_m", device="")
    assert not caution.blocks and "not recorded" in caution.sentence


def test_a_few_points_of_effort_are_no_other_effort():
    assert named("carry_m", effort_pct=98) == ()


def test_wind_withholds_what_wind_moves_and_keeps_the_swing():
    question = question_for(quantity="carry_m", category="driver", intent="straight", typical=200)
    windy = [block(8, 168, 8, 12, windy=True)]
    verdict = judge_change(question=question, before=[block(1, 200, 8, 12)], after=windy)
    assert (verdict.code, verdict.numbers) == ("cannot_tell", None)
    assert "calm visit" in verdict.coach.reason
    path = judge_change(question=path_question(), before=[block(1, 5.7, 2, 12)],
                        after=[block(8, 2.9, 2, 12, windy=True)])
    assert path.code == "likely"


def test_two_windy_days_are_no_fair_pair_either():
    assert differences(before=Conditions(windy=True), after=Conditions(windy=True), quantity="carry_m")[0].blocks
    assert differences(before=Conditions(windy=True), after=Conditions(windy=True), quantity="club_path_deg") == ()


def test_a_driver_changed_mid_session_is_split_and_nothing_is_claimed():
    old, new = block(1, 5.7, 2, 14, club="Driver", spec="old"), block(1, 2.0, 2, 16, club="Driver", spec="new")
    assert split_alike(visits=[old, new], quantity="club_path_deg") == ((old,), (new,))
    verdict = judge_today(question=path_question(), before=old, after=new)
    assert (verdict.code, verdict.numbers) == ("cannot_tell", None)
    assert "Not the same club set-up: old before, new after." in verdict.coach.reason
    assert "old, new, new, old" in verdict.coach.next_step


def test_the_visits_that_are_alike_are_judged_and_the_others_named():
    before = [block(1, 9.0, 2, 12, device="camera"), block(3, 5.7, 2, 12, device="radar")]
    verdict = judge_change(question=path_question(), before=before, after=[block(8, 3.0, 2, 12, device="radar")])
    assert verdict.code == "likely"
    assert verdict.numbers.before == pytest.approx(5.7)
    assert verdict.notes == ("Not the same device: camera before, radar after.",)


def test_unlike_baselines_alone_refuse_the_claim_and_say_why():
    verdict = judge_change(question=path_question(), before=[block(1, 5.7, 2, 12, venue_type="indoor")],
                           after=[block(8, 3.0, 2, 12, venue_type="grass")])
    assert (verdict.code, verdict.numbers) == ("cannot_tell", None)
    assert verdict.coach.reason == "Not the same kind of place: indoor before, grass after."
    assert "fairly" in verdict.student.reason


def test_within_a_visit_aids_may_differ_and_are_named():
    verdict = judge_today(question=path_question(), before=block(1, 5.7, 2, 12),
                          after=block(1, 3.0, 2, 12, aids=("sticks",)))
    assert verdict.code == "better_today"
    assert verdict.notes == ("Not the same aids: none before, sticks after.",)
