"""Sentences a coach reads: hands, signs, units, mishits, and shapes no pattern has a name for."""

import numpy as np
import pytest

from metrics.rules.types import BallCall, Wind
from metrics.rules.words import amount, balls, directed, fill, joined, number, span

from .cases import assess, column, contacts, finding, shown


@pytest.mark.parametrize("hand, text", [("right", "Starts right, ends left."), ("left", "Starts left, ends right.")])
def test_the_sides_are_named_for_the_players_own_hand(hand, text):
    assert fill("Starts {slice_side}, ends {hook_side}.", hand=hand) == text


@pytest.mark.parametrize("value, text", [(-0.04, "0.0"), (0.04, "0.0"), (-3.25, "−3.2"), (3.25, "3.2")])
def test_numbers_have_a_true_minus_and_never_a_negative_zero(value, text):
    assert number(value, digits=1) == text


@pytest.mark.parametrize("quantity, value, text", [
    ("club_path_deg", 5.7, "5.7° in-to-out"), ("club_path_deg", -4.6, "4.6° out-to-in"),
    ("launch_direction_deg", -3.0, "3.0° right"), ("strike_heel_toe_mm", -12, "12 mm toward the toe"),
    ("ball_position_cm", -1.0, "1.0 cm ahead of the lead heel"), ("smash_factor", 1.45, "1.45"),
    ("face_to_path_deg", 0.01, "0.0°"), ("lead_weight_pct", 48, "48%")])
def test_a_value_is_read_with_its_unit_and_its_direction(quantity, value, text):
    assert directed(quantity, value=value, hand="left") == text


def test_windows_counts_and_lists_read_as_people_write_them():
    assert span("club_path_deg", limits=(2, 4)) == "2.0 to 4.0°"
    assert amount("spin_rpm", value=2700.4) == "2700 rpm"
    assert (balls(1), balls(7)) == ("1 ball", "7 balls")
    assert (joined([]), joined(["a"]), joined(["a", "b", "c"])) == ("", "a", "a, b and c")


def test_a_mishit_stays_out_of_the_average_and_is_said_to():
    smash = np.r_[np.full(9, 1.38), 0.9, np.full(2, 1.38)]
    calls = tuple(BallCall(contact="top" if i == 9 else "clean") for i, _ in enumerate(smash))
    found = finding(assess({"smash_factor": smash}, calls=calls), "low_smash")
    assert "averaged 1.38" in found.explain and "1 mishit left out" in found.explain
    assert found.evidence[0].n == 11


def test_a_mishit_is_known_by_its_numbers_where_nothing_was_called():
    smash = np.r_[np.full(11, 1.38), 0.9]
    assert "1 mishit left out" in finding(assess({"smash_factor": smash}), "low_smash").explain


def test_a_mishit_still_counts_in_a_rate_and_toward_the_balls_needed():
    launch = np.r_[np.full(7, 14.0), np.full(3, 3.0)]
    answer = assess({"launch_angle_deg": launch}, calls=contacts(clean=7, top=3))
    assert finding(answer, "driver_low_top").evidence[0].mean == pytest.approx(0.3)


def test_an_open_face_on_a_good_path_is_named_though_no_pattern_fits():
    answer = assess({"club_path_deg": column(0, 1, 12), "face_to_path_deg": column(5, 1, 12)})
    assert shown(answer) == [] and "5.0° open to the path, outside your window" in answer.notes[0]


def test_a_note_says_what_the_wind_the_warm_up_and_the_aids_do_to_the_reading():
    said = assess({"club_path_deg": column(0, 1, 12)}, wind=Wind(speed_mps=6), warmed_up=False, aids=("sticks",)).notes
    assert [note.split(":")[0] for note in said] == ["Windy (6.0 m/s)", "Not warmed up", "Struck with aids down"]


def test_what_would_change_a_finding_is_said_with_numbers():
    few = assess({"club_path_deg": column(-4.6, 2.4, 6), "face_to_path_deg": column(4, 1, 6)})
    near = assess({"club_path_deg": column(-3.6, 2.0, 10), "face_to_path_deg": column(4, 1, 10)})
    sure = assess({"club_path_deg": column(-6, 1.0, 10), "face_to_path_deg": column(4, 1, 10)})
    assert "2 more balls decide" in finding(few, "slice").would_change
    assert "About 10 more balls" in finding(near, "slice").would_change
    assert "near side of −3.0°" in finding(sure, "slice").would_change


def test_the_next_best_pattern_is_named_with_the_number_that_speaks_against_it():
    answer = assess({"club_path_deg": column(-6, 1.0, 10), "face_to_path_deg": column(4, 1, 10)})
    assert "pull" in finding(answer, "slice").why_not[0] or "Two-way" in finding(answer, "slice").why_not[0]
