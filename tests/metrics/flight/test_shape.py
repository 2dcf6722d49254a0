"""Nine shapes, both hands, exactly on each limit, mirrored, and with parts missing."""

import math

import numpy as np
import pytest

from metrics.flight.air import air_at
from metrics.flight.shape import Limits, Shape, curve_from_side_m, shape_from_launch, shape_of, words
from metrics.flight.trajectory import fly
from metrics.flight.types import Ball, Launch

CALM = air_at(temperature_c=20, pressure_hpa=1013.25)
CENTRES = [
    (-4, -8, "pull-draw"), (-4, 0, "pull"), (-4, 8, "pull-fade"), (0, -8, "draw"), (0, 0, "straight"),
    (0, 8, "fade"), (4, -8, "push-draw"), (4, 0, "push"), (4, 8, "push-fade"),
]


@pytest.mark.parametrize(("start", "curve", "slug"), CENTRES)
def test_the_centre_of_each_of_the_nine_shapes(start, curve, slug):
    assert shape_of(launch_direction_deg=start, curve_m=curve, carry_m=200.0).slug == slug


@pytest.mark.parametrize(("start", "curve", "slug"), CENTRES)
def test_the_mirrored_ball_has_the_opposite_name(start, curve, slug):
    mirror = {"pull": "push", "push": "pull", "draw": "fade", "fade": "draw", "straight": "straight"}
    other = shape_of(launch_direction_deg=-start, curve_m=-curve, carry_m=200.0)
    assert other.slug == "-".join(mirror[part] for part in slug.split("-"))


@pytest.mark.parametrize(("start", "curve", "right", "left"), [
    (4, -8, "push-draw: starts right, curves left", "push-draw: starts left, curves right"),
    (-4, 0, "pull: starts left, flies straight on", "pull: starts right, flies straight on"),
    (0, 8, "fade: starts straight, curves right", "fade: starts straight, curves left"),
    (0, 20, "slice: starts straight, curves strongly right", "slice: starts straight, curves strongly left"),
    (4, -20, "push-hook: starts right, curves strongly left", "push-hook: starts left, curves strongly right"),
])
def test_only_left_and_right_change_with_the_hand(start, curve, right, left):
    shape = shape_of(launch_direction_deg=start, curve_m=curve, carry_m=200.0)
    assert words(shape=shape, hand="right") == right
    assert words(shape=shape, hand="left") == left


@pytest.mark.parametrize(("start", "expected"), [(1.5, 0), (1.5001, 1), (-1.5, 0), (-1.5001, -1)])
def test_a_start_exactly_on_the_limit_is_still_straight(start, expected):
    assert shape_of(launch_direction_deg=start).start == expected


@pytest.mark.parametrize(("curve", "expected", "strong"), [
    (2.0, 0, False), (2.001, 1, False), (7.0, 1, False), (7.001, 1, True),
    (-2.0, 0, False), (-2.001, -1, False), (-7.0, -1, False), (-7.001, -1, True),
])
def test_a_curve_exactly_on_a_limit_belongs_to_the_milder_class(curve, expected, strong):
    shape = shape_of(launch_direction_deg=0.0, curve_m=curve, carry_m=100.0)
    assert (shape.curve, shape.strong) == (expected, strong)


def test_the_limits_are_configurable():
    limits = Limits(start_deg=3.0, curve_share=0.05, strong_share=0.06)
    assert shape_of(launch_direction_deg=2.5, curve_m=4.0, carry_m=100.0, limits=limits).slug == "straight"
    assert shape_of(launch_direction_deg=3.5, curve_m=6.5, carry_m=100.0, limits=limits).slug == "push-slice"


@pytest.mark.parametrize("missing", [None, math.nan])
def test_a_missing_curve_leaves_the_start_and_invents_nothing(missing):
    for gap in ({"curve_m": missing, "carry_m": 180.0}, {"curve_m": 5.0, "carry_m": missing}):
        shape = shape_of(launch_direction_deg=4.0, **gap)
        assert (shape.start, shape.curve, shape.slug) == (1, None, "push start only")
        assert words(shape=shape, hand="left") == "starts left, curve not known"


def test_a_carry_of_zero_has_no_curve():
    assert shape_of(launch_direction_deg=0.0, curve_m=0.0, carry_m=0.0).slug == "straight start only"


@pytest.mark.parametrize("missing", [None, math.nan])
def test_without_a_start_there_is_no_shape(missing):
    shape = shape_of(launch_direction_deg=missing, curve_m=5.0, carry_m=100.0)
    assert shape.slug == "unknown"
    assert words(shape=shape, hand="right") == "start direction not known"


@pytest.mark.parametrize(("axis", "slug"), [(0.0, "push"), (-8.0, "push-draw"), (25.0, "push-slice")])
def test_a_curve_from_the_spin_axis_is_called_estimated(axis, slug):
    launch = Launch(
        ball_speed_mps=62, launch_angle_deg=12.5, spin_rpm=2700, launch_direction_deg=3.0, spin_axis_deg=axis
    )
    shape = shape_from_launch(launch=launch, air=CALM)
    assert shape.slug == slug and shape.inferred
    assert words(shape=shape, hand="right").endswith("(curve estimated from the spin axis)")


def test_the_curve_limit_of_two_percent_is_about_three_degrees_of_axis_for_a_driver_and_two_for_an_iron():
    """3.2° and 2.2°: computed elsewhere with the same model."""
    for speed, angle, spin, degrees in ((62.586, 12.5, 2700, 3.2), (51.857, 16, 5800, 2.2)):
        def curve(axis, speed=speed, angle=angle, spin=spin):
            launch = Launch(ball_speed_mps=speed, launch_angle_deg=angle, spin_rpm=spin, spin_axis_deg=axis)
            return shape_from_launch(launch=launch, air=CALM).curve
        assert curve(degrees - 0.1) == 0 and curve(degrees + 0.1) == 1


def test_the_curve_from_side_and_carry_is_that_of_the_flight():
    launch = Launch(ball_speed_mps=62, launch_angle_deg=12, spin_rpm=2600, launch_direction_deg=np.array([-4.0, 0, 5]),
                    spin_axis_deg=np.array([12.0, -3, -9]))
    landing = fly(launch=launch, air=CALM)
    curve = curve_from_side_m(side_m=landing.side_m, carry_m=landing.carry_m,
                              launch_direction_deg=launch.launch_direction_deg)
    np.testing.assert_allclose(curve, landing.curve_m, atol=1e-9)


def test_a_side_larger_than_the_carry_has_no_curve():
    curve = curve_from_side_m(side_m=np.array([10.0, 10.0]), carry_m=np.array([9.0, np.nan]), launch_direction_deg=0.0)
    assert np.isnan(curve).all()


def test_a_ball_that_flew_only_sideways_has_a_curve_of_its_whole_carry():
    assert curve_from_side_m(side_m=50.0, carry_m=50.0, launch_direction_deg=0.0) == pytest.approx(50.0)


def test_the_ball_and_the_limits_of_the_student_enter_a_shape_from_the_launch():
    launch = Launch(ball_speed_mps=62, launch_angle_deg=12.5, spin_rpm=2700, spin_axis_deg=-4.0)
    assert shape_from_launch(launch=launch, air=CALM).slug == "draw"
    assert shape_from_launch(launch=launch, air=CALM, limits=Limits(curve_share=0.04)).slug == "straight"
    assert shape_from_launch(launch=launch, air=CALM, ball=Ball(lift_multiplier=0.5)).slug == "straight"


def test_a_shape_can_be_told_from_its_two_classes_alone():
    assert Shape(start=-1, curve=1, strong=True).slug == "pull-slice"
