"""Inferring face, path, axis and an own share; uncertainties is the reference for error propagation."""

import numpy as np
import pytest
import statsmodels.api as sm
from uncertainties import ufloat
from uncertainties.umath import atan, tan

from metrics.flight.air import air_at
from metrics.flight.axis import CALM_MPS, axis_from_curve
from metrics.flight.infer import (
    face_and_path_from_ball,
    face_from_start_and_path,
    own_face_share,
    path_from_start_and_face,
    start_from_face_and_path,
)
from metrics.flight.trajectory import fly
from metrics.flight.types import Ball, Launch

from .outside import MPH, YARD

CALM = air_at(temperature_c=20, pressure_hpa=1013.25)
SHARES = [("driver", 0.76, 0.04), ("mid_iron", 0.69, 0.015), ("wedge_full", 0.61, 0.035)]


@pytest.mark.parametrize(("category", "k", "k_error"), SHARES)
def test_the_error_of_an_inferred_face_is_that_of_the_library_uncertainties(category, k, k_error):
    share, start, path = ufloat(k, k_error), ufloat(2.96, 0.5), ufloat(6.0, 1.0)
    outside = (start - (1 - share) * path) / share
    ours = face_from_start_and_path(launch_direction_deg=2.96, club_path_deg=6.0, category=category)
    assert ours.value == pytest.approx(outside.nominal_value, rel=1e-12)
    assert ours.standard_error == pytest.approx(outside.std_dev, rel=1e-9)


def test_the_worked_example_face_is_plus_two_give_or_take_0_8():
    face = face_from_start_and_path(launch_direction_deg=2.96, club_path_deg=6.0, category="driver")
    assert face.value == pytest.approx(2.0, abs=0.005)
    assert face.standard_error == pytest.approx(0.8, abs=0.05)
    assert (face.provenance, face.warnings) == ("inferred", ("inferred",))


@pytest.mark.parametrize(("category", "error"), [("driver", 0.94), ("mid_iron", 1.16), ("wedge_full", 1.5)])
def test_a_path_known_to_two_degrees_gives_the_published_wider_error(category, error):
    face = face_from_start_and_path(launch_direction_deg=1.0, club_path_deg=2.0, category=category, path_error_deg=2.0)
    assert face.standard_error == pytest.approx(error, abs=0.06)


@pytest.mark.parametrize(("category", "k", "k_error"), SHARES)
def test_the_error_of_an_inferred_path_is_that_of_the_library_uncertainties(category, k, k_error):
    share, start, face = ufloat(k, k_error), ufloat(2.5, 0.5), ufloat(0.5, 1.5)
    outside = (start - share * face) / (1 - share)
    ours = path_from_start_and_face(
        launch_direction_deg=2.5, face_angle_deg=0.5, category=category, face_error_deg=1.5
    )
    assert ours.value == pytest.approx(outside.nominal_value, rel=1e-12)
    assert ours.standard_error == pytest.approx(outside.std_dev, rel=1e-9)
    assert ours.warnings == ("inferred", "path_is_loose")


def test_face_path_and_start_agree_with_each_other():
    start = start_from_face_and_path(face_angle_deg=-1.0, club_path_deg=4.0, category="mid_iron")
    face = face_from_start_and_path(launch_direction_deg=start, club_path_deg=4.0, category="mid_iron")
    path = path_from_start_and_face(launch_direction_deg=start, face_angle_deg=-1.0, category="mid_iron")
    assert (face.value, path.value) == pytest.approx((-1.0, 4.0), abs=1e-12)


def test_the_worked_example_from_the_ball_alone():
    """Start +3.06, axis −17.1, spin loft 13: face +2.08, path +6.15."""
    face, path = face_and_path_from_ball(
        launch_direction_deg=3.06, spin_axis_deg=-17.1, spin_loft_deg=13.0, category="driver"
    )
    assert (face.value, path.value) == pytest.approx((2.08, 6.15), abs=0.01)
    assert face.warnings == path.warnings == ("inferred", "centred_only")


def test_with_an_iron_there_is_no_gear_effect_to_warn_of():
    face, _ = face_and_path_from_ball(launch_direction_deg=1, spin_axis_deg=4, spin_loft_deg=28, category="mid_iron")
    assert face.warnings == ("inferred",)


def test_the_error_from_the_ball_alone_is_that_of_the_library_uncertainties():
    rad = np.pi / 180
    start, axis, loft, k = ufloat(3.06, 0.5), ufloat(-17.1, 2.0), ufloat(13.0, 2.0), ufloat(0.76, 0.04)
    delta = atan(tan(axis * rad) * tan(loft * rad)) / rad
    face, path = face_and_path_from_ball(
        launch_direction_deg=3.06, spin_axis_deg=-17.1, spin_loft_deg=13.0, category="driver"
    )
    assert face.standard_error == pytest.approx((start + (1 - k) * delta).std_dev, rel=1e-6)
    assert path.standard_error == pytest.approx((start - k * delta).std_dev, rel=1e-6)


def test_inferring_keeps_shapes_and_what_is_missing():
    face = face_from_start_and_path(
        launch_direction_deg=np.array([1.0, np.nan]), club_path_deg=2.0, category="driver"
    )
    np.testing.assert_array_equal(np.isnan(face.value), [False, True])
    np.testing.assert_array_equal(np.isnan(face.standard_error), [False, True])


def test_an_own_share_is_the_slope_through_the_origin_of_the_library_statsmodels():
    rng = np.random.default_rng(4)
    path, delta = rng.uniform(-4, 4, 40), rng.uniform(1.6, 6, 40) * rng.choice([-1, 1], 40)
    start = path + 0.7 * delta + rng.normal(0, 0.3, 40)
    own = own_face_share(launch_direction_deg=start, club_path_deg=path, face_angle_deg=path + delta)
    outside = sm.OLS(start - path, delta).fit()
    assert own.value == pytest.approx(outside.params[0], rel=1e-12)
    assert own.standard_error == pytest.approx(outside.bse[0], rel=1e-9)
    assert own.value == pytest.approx(0.7, abs=4 * own.standard_error)


@pytest.mark.parametrize(("usable", "refusal"), [(9, "share_needs_face_to_path"), (10, "")])
def test_an_own_share_needs_ten_balls_with_face_and_path_apart(usable, refusal):
    face = np.array([1.5] * usable + [1.4] * 20 + [np.nan] * 5)
    own = own_face_share(launch_direction_deg=face * 0.7, club_path_deg=np.zeros(usable + 25), face_angle_deg=face)
    assert own.refusal == refusal
    assert np.isnan(own.value) == bool(refusal)


def test_an_own_share_of_nothing_is_refused():
    empty = np.array([])
    own = own_face_share(launch_direction_deg=empty, club_path_deg=empty, face_angle_deg=empty)
    assert own.refusal == "share_needs_face_to_path"


@pytest.mark.parametrize(("speed", "angle", "spin", "yards_per_degree"), [
    (140, 12.5, 2700, 1.37), (116, 16, 5800, 1.44), (88, 28, 8500, 0.80),
])
def test_the_axis_comes_back_from_the_curve(speed, angle, spin, yards_per_degree):
    axis = np.array([-30.0, -12, -1, 0, 3, 20, 30])
    launch = Launch(ball_speed_mps=speed * MPH, launch_angle_deg=angle, spin_rpm=spin, spin_axis_deg=axis,
                    launch_direction_deg=2.0)
    curve = fly(launch=launch, air=CALM).curve_m
    found = axis_from_curve(curve_m=curve, launch=launch, air=CALM, side_error_m=2 * YARD)
    np.testing.assert_allclose(found.value, axis, atol=0.002)
    assert found.standard_error[3] == pytest.approx(2 / yards_per_degree, rel=0.03)
    assert curve[2] / YARD == pytest.approx(-yards_per_degree, rel=0.03)


def test_the_axis_of_a_students_own_ball_comes_back_too():
    ball = Ball(lift_multiplier=1.2)
    launch = Launch(ball_speed_mps=60, launch_angle_deg=12, spin_rpm=2700, spin_axis_deg=7.0)
    curve = fly(launch=launch, air=CALM, ball=ball).curve_m
    assert axis_from_curve(curve_m=curve, launch=launch, air=CALM, ball=ball).value == pytest.approx(7.0, abs=0.002)


def test_a_breath_of_wind_still_counts_as_calm():
    light = air_at(temperature_c=20, altitude_m=0, wind_along_mps=CALM_MPS)
    launch = Launch(ball_speed_mps=60, launch_angle_deg=12, spin_rpm=2700)
    assert axis_from_curve(curve_m=5.0, launch=launch, air=light).refusal == ""


def test_no_axis_is_inferred_in_wind():
    windy = air_at(temperature_c=20, altitude_m=0, wind_slice_mps=2.0)
    launch = Launch(ball_speed_mps=60, launch_angle_deg=12, spin_rpm=2700)
    found = axis_from_curve(curve_m=5.0, launch=launch, air=windy)
    assert found.refusal == "not_calm" and np.isnan(found.value) and np.isnan(found.standard_error)


def test_a_curve_no_axis_can_make_is_refused_and_leaves_the_others_alone():
    launch = Launch(ball_speed_mps=60, launch_angle_deg=12, spin_rpm=2700)
    found = axis_from_curve(curve_m=np.array([5.0, 250.0, np.nan]), launch=launch, air=CALM)
    np.testing.assert_array_equal(np.isnan(found.value), [False, True, True])
    assert found.refusal == ""
    assert axis_from_curve(curve_m=250.0, launch=launch, air=CALM).refusal == "curve_too_large"
