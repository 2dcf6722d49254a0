"""What a golf teacher must get as an answer, from a file on the command line and for both hands.

Figures of the trade: common practice, no source.
"""

import numpy as np
import pytest

from tests.metrics.rules.cases import column

from .by_file import Case, shown


@pytest.fixture(params=["right", "left"])
def case(request, tmp_path) -> Case:
    return Case(tmp_path, request.param)


def draw(path: float = 5.7, sd: float = 1.8, n: int = 10) -> dict[str, np.ndarray]:
    return {"club_path_deg": column(path, sd, n), "face_to_path_deg": column(-2.4, 1.5, n),
            "launch_direction_deg": column(3.0, 1.5, n)}


def test_a_draw_too_far_out_is_led_to_feet_ball_and_width_and_never_to_the_grip(case):
    setup = {"feet_deg": 7, "ball_position_cm": 7, "stance_width_ratio": 0.80}
    found = case.read(draw(), intent="draw", beside={"setup": setup})["findings"][0]
    assert (found["pattern"], found["state"], found["raised_by_setup"]) == ("over_draw", "supported", True)
    assert [check["checkpoint"] for check in found["checks"]] == ["feet_deg", "ball_position_cm", "stance_width_ratio"]
    assert found["checks"][1]["then_check"] == "shoulders_deg"
    assert "2.0 to 4.0°, not 0" in found["own_goal"]
    assert "knuckles" not in str(found["checks"]) and "knuckles" not in found["explain"]


def test_from_the_balls_alone_it_is_a_hint(case):
    found = case.read(draw(), intent="draw")["findings"][0]
    assert (found["pattern"], found["state"]) == ("over_draw", "hint")


def test_in_the_window_with_sticks_and_without_is_better_today_at_most(case):
    block = case.read(draw(3.3, 2.0), intent="draw", with_aids=draw(2.9, 1.7))
    assert block["findings"] == [] and "better today at most" in block["in_window"]
    assert "next visit" in block["in_window"] and "improv" not in block["in_window"]


def test_six_balls_of_a_slice_are_a_hint_that_asks_for_two_more_and_warns(case):
    shots = {"club_path_deg": column(-4.6, 2.4, 6), "face_to_path_deg": column(4, 1, 6)}
    block = case.read(shots)
    assert [(f["pattern"], f["state"]) for f in block["findings"]] == [("slice", "hint")]
    assert block["needs"][0].startswith("2 more balls")
    assert f"Squaring the aim alone sends the ball further {case.hand}" in " ".join(block["findings"][0]["warnings"])


def test_heel_strikes_come_first_and_the_face_waits(case):
    block = case.read({"club_path_deg": column(0.4, 1.5, 20), "face_angle_deg": column(0, 3.6, 20),
                       "strike_heel_toe_mm": column(14, 5, 20)})
    assert shown(block)[0] == "heel_shank" and "face_scatter" not in shown(block)
    assert "held back" in block["considered"]["face_scatter"]["reason"]


def test_a_wanted_draw_inside_its_window_is_left_alone(case):
    block = case.read({"club_path_deg": column(2.8, 1.2, 10), "face_to_path_deg": column(-1.1, 0.8, 10)},
                      intent="draw")
    assert block["findings"] == [] and block["in_window"].startswith("In your window for a draw")


def test_a_beginner_who_tops_hears_about_contact_and_nothing_else(case):
    calls = [{"contact": "top"}] * 5 + [{"contact": "clean"}] * 5
    block = case.read({"club_path_deg": column(-6, 2, 10), "face_to_path_deg": column(4, 1, 10)}, club="7i",
                      beside={"calls": calls}, options=("--level", "40"))
    assert shown(block) == ["thin_top_iron"]


def test_attack_is_judged_in_a_headwind_and_carry_is_not(case):
    block = case.read({"attack_angle_deg": column(-3.5, 1, 10), "carry_m": column(150, 20, 10)},
                      beside={"wind_mps": 8.9})
    assert shown(block) == ["driver_steep"]
    assert "carry, curve and finish are not judged" in block["notes"][0]


def test_a_path_that_jumps_after_the_ball_moved_asks_for_the_shoulders_first(case):
    block = case.read({"club_path_deg": column(-4, 1.5, 10), "face_to_path_deg": column(4, 1, 10)},
                      beside={"moved": {"checkpoint": "ball_position_cm", "before": 5, "after": 0.7}},
                      before={"club_path_deg": column(-1, 1.5, 10)})
    assert shown(block) == ["shoulders_vs_feet"]
    assert block["findings"][0]["checks"][0]["checkpoint"] == "shoulders_deg"
    assert "check the shoulder line" in block["warnings"][0]


def test_pain_stops_the_patterns_and_offers_putting_and_aim(case):
    block = case.read(draw(), beside={"pain": 5, "sore": ["low_back"]})
    assert block["findings"] == [] and block["gate"]["key"] == "pain"
    assert "not medical advice" in block["gate"]["text"]
    assert any("Putting" in offer for offer in block["gate"]["offers"])


@pytest.mark.parametrize(("path", "seen"), [(6.0, "In-to-out path seen"), (-6.0, "Out-to-in path seen")])
def test_path_alone_cannot_tell_a_push_from_a_draw(case, path, seen):
    block = case.read({"club_path_deg": column(path, 1.5, 10)})
    assert block["findings"] == [] and block["needs"][0].startswith(seen)
    assert "until face or start direction is logged" in block["needs"][0]


def test_four_balls_are_counted_and_not_averaged(case):
    block = case.read(draw(n=4))
    assert block["findings"] == [] and block["needs"][0].startswith("4 balls logged")


def test_called_balls_without_any_device_are_a_hint_and_no_degree_is_made_up(case):
    out, back = ("right", "left") if case.hand == "right" else ("left", "right")
    calls = [{"start": out, "curve": back}] * 7 + [{"start": "line", "curve": "none"}] * 3
    block = case.read(beside={"calls": calls, "setup": {"feet_deg": 8}})
    found = block["findings"][0]
    assert (found["pattern"], found["state"], block["n"]) == ("over_draw", "hint", 10)
    assert found["checks"][0]["checkpoint"] == "feet_deg" and "7 of 10 called" in found["explain"]
    assert block["numbers"] == {} and all(not line["measured"] for line in found["evidence"])


def test_both_hands_get_the_same_answer_in_mirrored_words(tmp_path):
    blocks = {}
    for hand in ("right", "left"):
        folder = tmp_path / hand
        folder.mkdir()
        blocks[hand] = Case(folder, hand).read(draw())
    right, left = blocks["right"], blocks["left"]
    assert shown(right) == shown(left) and right["numbers"] == left["numbers"]
    assert left["findings"][0]["explain"] == right["findings"][0]["explain"].replace("arc right", "arc left")
