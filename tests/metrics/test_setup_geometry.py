"""Setup geometry against trigonometry derived here and against a circle drawn point by point."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from metrics.setup_geometry import (
    ARCS,
    aim_offset,
    ball_move_effect,
    ball_width_effect,
    delivery_at,
    foot_line_deg,
    lie_start_deg,
)


@pytest.mark.parametrize("club, attack, path", [
    ("driver", -1.0, 0.95), ("fairway", -1.1, 0.93), ("hybrid_long_iron", -1.2, 0.89), ("mid_iron", -1.3, 0.80),
    ("wedge_full", -1.4, 0.73)])
def test_a_ball_one_width_back_means_more_down_and_more_out(club, attack, path):
    """Sizes computed once before for the same model, to two figures: common practice names only the direction."""
    effect = ball_width_effect(club_category=club)
    assert effect.attack_deg == pytest.approx(attack, abs=0.06)
    assert effect.path_deg == pytest.approx(path, abs=0.03)


@pytest.mark.parametrize("club, ratio", [("driver", 0.93), ("mid_iron", 0.60)])
def test_path_moves_out_by_a_fixed_share_of_each_degree_down(club, ratio):
    effect = ball_width_effect(club_category=club)
    assert -effect.path_deg / effect.attack_deg == pytest.approx(ratio, abs=0.01)


@given(st.sampled_from(sorted(ARCS)), st.floats(-0.2, 0.2))
def test_the_closed_form_is_the_tangent_of_the_drawn_circle(club, ahead):
    """The circle is drawn in its plane, tilted by a rotation matrix, and its tangent taken by central difference."""
    arc = ARCS[club]
    tilt = math.radians(arc.plane_deg)
    rotation = np.array([[1, 0, 0], [0, math.cos(tilt), -math.sin(tilt)], [0, math.sin(tilt), math.cos(tilt)]])
    turn = math.asin(ahead / arc.radius_m)

    def head(angle: float) -> np.ndarray:  # x to the target, y toward the player, z up
        return rotation @ np.array([math.sin(angle), 1 - math.cos(angle), 0]) * arc.radius_m

    along, inward, up = head(turn + 1e-5) - head(turn - 1e-5)
    delivery = delivery_at(arc=arc, ahead_of_low_point_m=ahead)
    assert delivery.path_deg == pytest.approx(math.degrees(math.atan2(-inward, along)), abs=1e-5)
    assert delivery.attack_deg == pytest.approx(math.degrees(math.atan2(up, math.hypot(along, inward))), abs=1e-5)


def test_at_the_low_point_the_head_goes_level_and_along_the_plane():
    low = delivery_at(arc=ARCS["driver"], ahead_of_low_point_m=0)
    assert (low.path_deg, low.attack_deg) == (pytest.approx(0), pytest.approx(0))


def test_there_and_back_again_changes_nothing():
    back = ball_move_effect(club_category="mid_iron", back_cm=4, attack_deg=-3.5)
    again = ball_move_effect(club_category="mid_iron", back_cm=-4, attack_deg=-3.5 + back.attack_deg)
    assert back.path_deg + again.path_deg == pytest.approx(0, abs=1e-9)


def test_a_ball_off_the_arc_is_refused_with_a_sentence_and_a_putter_has_no_arc():
    with pytest.raises(ValueError, match="off the arc; expected at most"):
        delivery_at(arc=ARCS["driver"], ahead_of_low_point_m=1.0)
    assert ball_width_effect(club_category="putter") is None


@pytest.mark.parametrize("gap_in, degrees", [(16, 3.0), (20, 2.5)])
def test_pulling_one_foot_back_an_inch_turns_the_foot_line(gap_in, degrees):
    """Derived: the foot line runs over the heel gap plus two half foot widths of 1.5 in each."""
    found = foot_line_deg(pulled_back_cm=2.54, heel_gap_cm=gap_in * 2.54)
    assert found == pytest.approx(math.degrees(math.atan(1 / (gap_in + 3))), rel=1e-12)
    assert found == pytest.approx(degrees, abs=0.05)


@pytest.mark.parametrize("distance, offset", [(100, 1.7), (150, 2.6), (200, 3.5), (250, 4.4)])
def test_one_degree_of_aim_costs_what_the_trade_says(distance, offset):
    assert aim_offset(aim_deg=1, distance=distance) == pytest.approx(offset, abs=0.06)


@pytest.mark.parametrize("loft, start", [(30, 0.6), (48, 1.1)])
def test_an_upright_lie_starts_the_ball_to_the_hook_side_and_more_with_loft(loft, start):
    """Derived: the face normal (cos loft, 0, sin loft) turned about the target axis by the lie error."""
    lie, tilt = math.radians(1), math.radians(loft)
    sideways, along = -math.sin(tilt) * math.sin(lie), math.cos(tilt)
    assert lie_start_deg(lie_error_deg=1, loft_deg=loft) == pytest.approx(
        math.degrees(math.atan2(sideways, along)), abs=1e-9)
    assert lie_start_deg(lie_error_deg=1, loft_deg=loft) == pytest.approx(-start, abs=0.05)
