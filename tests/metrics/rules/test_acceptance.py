"""What a golf teacher must get as an answer, for both hands. Figures of the trade: common practice, no source."""

import dataclasses

import numpy as np
import pytest

from metrics.rules.types import AidPair, BallCall, EarlierFinding, Health, SetupChange, Wind

from .cases import assess, column, contacts, finding, right_hander_or_mirror, shown, state_of

HANDS = pytest.mark.parametrize("hand", ["right", "left"])


def draw_player(n: int = 10) -> dict[str, np.ndarray]:
    return {"club_path_deg": column(5.7, 1.8, n), "face_to_path_deg": column(-2.4, 1.5, n),
            "launch_direction_deg": column(3.0, 1.5, n)}


@HANDS
def test_a_draw_player_too_far_in_to_out_is_raised_to_supported_by_feet_ball_and_width(hand):
    setup = {"feet_deg": 7, "ball_position_cm": 7, "stance_width_ratio": 0.80}
    found = finding(assess(draw_player(), hand=hand, intent="draw", setup=setup), "over_draw")
    assert (found.state, found.raised_by_setup) == ("supported", True)
    assert [c.checkpoint for c in found.checks] == ["feet_deg", "ball_position_cm", "stance_width_ratio"]
    assert found.checks[1].then_check == "shoulders_deg"
    assert "2.0 to 4.0°, not 0" in found.own_goal
    assert "knuckles" not in str(found.checks) and "knuckles" not in found.explain


def test_the_same_balls_without_a_look_at_the_setup_are_only_a_hint():
    assert finding(assess(draw_player(), intent="draw"), "over_draw").state == "hint"


@HANDS
def test_in_the_window_with_and_without_sticks_is_better_today_and_no_more(hand):
    with_aid = right_hander_or_mirror({"club_path_deg": column(2.9, 1.7, 10)}, hand)
    no_aid = {"club_path_deg": column(3.3, 2.0, 10)}
    answer = assess(no_aid, hand=hand, intent="draw",
                    pair=AidPair(with_aid=with_aid, no_aid=right_hander_or_mirror(no_aid, hand)))
    assert answer.findings == () and "better today at most" in answer.in_window
    assert "improv" not in answer.in_window and "next visit" in answer.in_window


def test_a_left_hander_gets_the_same_codes_and_order_with_the_words_mirrored():
    right, left = (assess(draw_player(), hand=hand, intent="straight") for hand in ("right", "left"))
    assert shown(right) == shown(left)
    assert "3.0° right" not in finding(left, "over_draw").explain
    swapped = finding(right, "over_draw").explain.replace("arc right", "arc left")
    assert finding(left, "over_draw").explain == swapped != finding(right, "over_draw").explain


@HANDS
def test_six_balls_of_a_slice_are_a_hint_that_asks_for_two_more_and_warns_about_aim(hand):
    answer = assess({"club_path_deg": column(-4.6, 2.4, 6), "face_to_path_deg": column(4, 1, 6)}, hand=hand)
    found = finding(answer, "slice")
    assert found.state == "hint" and answer.needs[0].startswith("2 more balls")
    assert any("Squaring the aim alone sends the ball further " + hand in w for w in found.warnings)


@HANDS
def test_heel_strikes_come_before_a_scattering_face(hand):
    answer = assess({"club_path_deg": column(0.4, 1.5, 20), "face_angle_deg": column(0, 3.6, 20),
                     "strike_heel_toe_mm": column(14, 5, 20)}, hand=hand)
    assert shown(answer)[0] == "heel_shank" and "face_scatter" not in shown(answer)
    held = next(c for c in answer.considered if c.pattern == "face_scatter")
    assert held.state == "hint" and "held back" in held.reason


@HANDS
def test_a_wanted_draw_inside_its_window_is_left_alone(hand):
    answer = assess({"club_path_deg": column(2.8, 1.2, 10), "face_to_path_deg": column(-1.1, 0.8, 10)},
                    hand=hand, intent="draw")
    assert answer.findings == () and answer.in_window.startswith("In your window for a draw")


@HANDS
def test_a_beginner_who_tops_hears_about_contact_and_nothing_else(hand):
    answer = assess({"club_path_deg": column(-6, 2, 10), "face_to_path_deg": column(4, 1, 10)}, hand=hand,
                    club_category="mid_iron", handicap_index=40, calls=contacts(top=5, clean=5))
    assert shown(answer) == ["thin_top_iron"]


def test_poor_contact_gates_path_findings_without_any_index_known():
    shots = {"club_path_deg": column(-6, 2, 10), "face_to_path_deg": column(4, 1, 10)}
    answer = assess(shots, club_category="mid_iron", calls=contacts(top=4, clean=6))
    assert shown(answer) == ["thin_top_iron"] and state_of(answer, "slice") == "supported"


@HANDS
def test_attack_is_judged_in_a_headwind_and_carry_is_not(hand):
    answer = assess({"attack_angle_deg": column(-3.5, 1, 10), "carry_m": column(150, 20, 10)}, hand=hand,
                    wind=Wind(speed_mps=8.9))
    assert shown(answer) == ["driver_steep"]
    assert "carry, curve and finish are not judged" in answer.notes[0]


def test_a_distance_scatter_found_in_calm_air_is_withheld_in_wind():
    shots = {"carry_m": column(140, 30, 15), "launch_direction_deg": column(0, 1, 15)}
    calm = assess(shots, club_category="mid_iron", level="scratch")
    windy = assess(shots, club_category="mid_iron", level="scratch", wind=Wind(windy=True))
    assert shown(calm) == ["carry_scatter"] and shown(windy) == []
    assert "wind" in next(c.reason for c in windy.considered if c.pattern == "carry_scatter")


@HANDS
def test_a_path_that_jumps_after_the_ball_moved_asks_for_the_shoulders_before_anything_else(hand):
    moved = SetupChange(checkpoint="ball_position_cm", before=5, after=0.7, shots_before=right_hander_or_mirror(
        {"club_path_deg": column(-1, 1.5, 10)}, hand))
    answer = assess({"club_path_deg": column(-4, 1.5, 10), "face_to_path_deg": column(4, 1, 10)}, hand=hand,
                    change=moved)
    assert shown(answer) == ["shoulders_vs_feet"]
    assert answer.findings[0].checks[0].checkpoint == "shoulders_deg"
    assert "check the shoulder line" in answer.warnings[0]


def test_shoulders_seen_to_agree_with_the_feet_clear_them_of_that_suspicion():
    moved = SetupChange(checkpoint="ball_position_cm", before=5, after=0.7,
                        shots_before={"club_path_deg": column(-1, 1.5, 10)})
    answer = assess({"club_path_deg": column(-4, 1.5, 10)}, change=moved,
                    setup={"shoulders_deg": 0, "feet_deg": 0})
    assert state_of(answer, "shoulders_vs_feet") == "silent"


@HANDS
@pytest.mark.parametrize("health", [Health(max_pain=5, areas=("low_back",)), Health(max_pain=1, new_pain=True)])
def test_pain_stops_the_patterns_and_offers_putting_and_aim(hand, health):
    answer = assess(draw_player(), hand=hand, health=health)
    assert answer.findings == () and answer.gate.key == "pain"
    assert any("Putting" in offer for offer in answer.gate.offers) and any("Aim" in o for o in answer.gate.offers)
    assert "not medical advice" in answer.gate.text


def test_a_red_flag_asks_for_emergency_care():
    answer = assess(draw_player(), health=Health(red_flag=True))
    assert answer.gate.key == "red_flag" and "emergency" in answer.gate.text


@HANDS
@pytest.mark.parametrize("path, seen", [(6.0, "In-to-out path seen"), (-6.0, "Out-to-in path seen")])
def test_path_alone_cannot_tell_a_push_from_a_draw_or_a_pull_from_a_slice(hand, path, seen):
    answer = assess({"club_path_deg": column(path, 1.5, 10)}, hand=hand)
    assert answer.findings == ()
    assert answer.needs[0].startswith(seen) and "until face or start direction is logged" in answer.needs[0]


def test_start_direction_can_stand_in_for_the_face_and_says_that_it_was_inferred():
    shots = {"club_path_deg": column(6, 1.5, 10), "launch_direction_deg": column(3, 1.5, 10)}
    assert "inferred from start direction and path" in finding(assess(shots), "over_draw").explain


@HANDS
def test_four_balls_are_counted_and_nothing_is_averaged(hand):
    answer = assess(draw_player(4), hand=hand)
    assert answer.findings == () and not answer.show_mean
    assert answer.needs == ("4 balls logged: 1 more before an average is shown, 4 more before it is judged.",)


@HANDS
def test_eyes_alone_give_a_hint_and_no_degrees_that_were_not_measured(hand):
    calls = (BallCall(start=1, curve=-1),) * 7 + (BallCall(start=0, curve=0),) * 3
    answer = assess(hand=hand, calls=calls, setup={"feet_deg": 8})
    found = finding(answer, "over_draw")
    assert found.state == "hint" and "7 of 10 called" in found.explain
    assert [c.checkpoint for c in found.checks][0] == "feet_deg"
    assert all(not e.measured and e.unit == "share of balls" for e in found.evidence)


@HANDS
def test_good_with_sticks_and_gone_without_them_leans_on_the_aids(hand):
    blocks = {name: right_hander_or_mirror({"club_path_deg": column(mean, 2.0, 10)}, hand) for name, mean in
              {"with_aid": 3.0, "no_aid": 5.4, "baseline": 5.6, "next_first_ten": 5.0}.items()}
    answer = assess({"club_path_deg": column(5.0, 2.0, 10)}, hand=hand, intent="draw", pair=AidPair(**blocks))
    found = finding(answer, "aid_dependent")
    assert found.state == "supported" and "faded-sticks" in found.drills
    assert next(e.mean for e in found.evidence if e.statistic == "aid_gap") == pytest.approx(1.4)


def test_a_sore_back_below_the_stop_keeps_its_drills_out_and_says_what_to_do_instead():
    shots = {"attack_angle_deg": column(-4, 1, 10)}
    sore = assess(shots, health=Health(max_pain=2, areas=("low_back",)))
    assert "over-the-marker" in finding(assess(shots), "driver_steep").drills
    assert "over-the-marker" not in finding(sore, "driver_steep").drills
    assert "move ball and tee" in sore.notes[0]


def test_a_pattern_met_before_outranks_a_bigger_one_of_its_kind_seen_once():
    launch = np.r_[np.full(5, 3.0), np.full(3, 24.0), np.full(6, 14.0)]
    shots = {"strike_heel_toe_mm": column(25, 4, 14), "launch_angle_deg": launch, "smash_factor": np.full(14, 1.3)}
    first = assess(shots)
    again = assess(shots, earlier=(EarlierFinding(pattern="sky_ball"),))
    assert state_of(first, "sky_ball") == "supported" and "sky_ball" not in shown(first)
    assert "sky_ball" in shown(again) and len(shown(first)) == len(shown(again)) == 2


def test_the_answer_turns_into_plain_json_and_back():
    import json

    from metrics.rules.assessment import as_dict

    answer = assess(draw_player(), intent="draw", setup={"feet_deg": 7})
    plain = as_dict(answer)
    assert json.loads(json.dumps(plain)) == plain
    assert set(plain) == {field.name for field in dataclasses.fields(answer)}
