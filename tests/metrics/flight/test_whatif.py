"""What if: estimates for explaining, which keep the measured launch as their ground."""

import numpy as np
import pytest

from metrics.flight.air import air_at
from metrics.flight.impact import Delivery
from metrics.flight.trajectory import fly
from metrics.flight.types import Ball, Launch
from metrics.flight.whatif import estimate, what_if

CALM = air_at(temperature_c=20, pressure_hpa=1013.25)
MEASURED = Launch(
    ball_speed_mps=60.0, launch_angle_deg=13.0, spin_rpm=2900.0, launch_direction_deg=2.5, spin_axis_deg=-8.0
)


def _delivery(**change):
    return Delivery(**{"club_speed_mps": 41.5, "club_path_deg": 5.0, "face_angle_deg": 2.0, "attack_angle_deg": 0.0,
                       "dynamic_loft_deg": 14.0, **change})


def _changed(**change):
    return what_if(measured=MEASURED, now=_delivery(), then=_delivery(**change), category="driver")


def test_without_a_change_the_flight_is_that_of_the_measured_launch():
    now, then = _changed()
    assert now.launch == MEASURED
    assert then.landing.carry_m == pytest.approx(now.landing.carry_m, abs=1e-9)
    assert now.landing.carry_m == pytest.approx(fly(launch=MEASURED, air=CALM).carry_m, abs=1e-6)


def test_less_path_turns_the_draw_towards_straight_and_starts_it_nearer_the_target():
    now, then = _changed(club_path_deg=2.5)
    assert abs(then.landing.curve_m) < abs(now.landing.curve_m)
    assert then.launch.launch_direction_deg == pytest.approx(2.5 - 0.24 * 2.5, abs=1e-9)


def test_an_opener_face_starts_farther_to_the_slice_side_and_curves_there():
    now, then = _changed(face_angle_deg=5.0)
    assert then.launch.launch_direction_deg > now.launch.launch_direction_deg
    assert then.landing.curve_m > now.landing.curve_m


def test_more_club_speed_gives_ball_speed_in_proportion_and_more_carry():
    now, then = _changed(club_speed_mps=41.5 * 1.05)
    assert then.launch.ball_speed_mps == pytest.approx(60.0 * 1.05, rel=1e-9)
    assert then.launch.spin_rpm == pytest.approx(2900 * 1.05, rel=1e-9)
    assert then.landing.carry_m > now.landing.carry_m


def test_hitting_up_with_the_same_loft_spins_less():
    now, then = _changed(attack_angle_deg=4.0)
    assert then.launch.spin_rpm < now.launch.spin_rpm
    assert then.launch.ball_speed_mps > now.launch.ball_speed_mps


def test_a_missing_spin_start_or_axis_takes_what_the_strike_model_says():
    blank = Launch(ball_speed_mps=60.0, launch_angle_deg=13.0, spin_rpm=np.nan, launch_direction_deg=np.nan,
                   spin_axis_deg=np.nan)
    now, _ = what_if(measured=blank, now=_delivery(), then=_delivery(), category="driver")
    model = estimate(delivery=_delivery(), category="driver").launch
    assert now.launch.spin_rpm == model.spin_rpm
    assert now.launch.launch_direction_deg == pytest.approx(0.76 * 2.0 + 0.24 * 5.0)
    assert now.launch.spin_axis_deg == model.spin_axis_deg


def test_every_flight_is_labelled_an_estimate_and_its_shape_inferred():
    for each in (*_changed(face_angle_deg=0.0), estimate(delivery=_delivery(), category="mid_iron")):
        assert each.label == "Estimate" and each.shape.inferred


def test_air_and_ball_of_the_day_are_used():
    thin = air_at(temperature_c=20, altitude_m=1600)
    plain = estimate(delivery=_delivery(), category="driver").landing.carry_m
    assert estimate(delivery=_delivery(), category="driver", air=thin).landing.carry_m > plain
    assert estimate(delivery=_delivery(), category="driver", ball=Ball(drag_multiplier=1.1)).landing.carry_m < plain


def test_the_mirrored_delivery_gives_the_mirrored_flight():
    one = estimate(delivery=_delivery(), category="driver")
    other = estimate(delivery=_delivery(club_path_deg=-5.0, face_angle_deg=-2.0), category="driver")
    assert one.landing.side_m == pytest.approx(-other.landing.side_m, abs=1e-9)
    assert (one.shape.slug, other.shape.slug) == ("push-hook", "pull-slice")
