"""Whole flights against an adaptive solver, and the properties every flight must have."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from metrics.flight.air import air_at
from metrics.flight.trajectory import BALLS_AT_ONCE, fly, trace, within_range
from metrics.flight.types import Air, Ball, Landing, Launch

from .outside import MPH, YARD, adaptive_one, random_shots, rows

CALM = air_at(temperature_c=20, pressure_hpa=1013.25)
DRIVE = Launch(ball_speed_mps=62.6, launch_angle_deg=12.5, spin_rpm=2700)


@pytest.mark.parametrize("row", rows("flight_cases.csv"), ids=lambda row: row["name"])
def test_published_cases_of_the_model_by_dop853_at_rtol_1e_10(row):
    case = {key: float(value) for key, value in row.items() if key != "name"}
    air = air_at(
        temperature_c=case["temperature_c"], pressure_hpa=case["pressure_hpa"],
        humidity_percent=100 * case["humidity"], wind_along_mps=case["wind_along_mph"] * MPH,
        wind_slice_mps=case["wind_slice_mph"] * MPH,
    )
    landing = fly(
        launch=Launch(
            ball_speed_mps=case["ball_speed_mph"] * MPH,
            **{key: case[key] for key in ("launch_angle_deg", "launch_direction_deg", "spin_rpm", "spin_axis_deg")},
        ),
        air=air,
    )
    for name in ("downrange", "side", "carry", "apex"):
        assert getattr(landing, f"{name}_m") / YARD == pytest.approx(case[f"{name}_yd"], abs=0.02), name
    assert landing.landing_angle_deg == pytest.approx(case["landing_angle_deg"], abs=0.02)
    assert landing.flight_time_s == pytest.approx(case["flight_time_s"], abs=0.002)
    assert landing.landing_speed_mps / MPH == pytest.approx(case["landing_speed_mph"], abs=0.02)
    assert landing.landing_spin_rpm == pytest.approx(case["landing_spin_rpm"], abs=0.2)


@pytest.mark.simulation
def test_600_random_shots_in_wind_agree_with_dop853_within_a_hundredth_of_a_yard():
    launch, air = random_shots(count=600, seed=19)
    ours = fly(launch=launch, air=air)
    for i, _ in enumerate(ours.carry_m):
        carry, side, apex, time = adaptive_one(launch, air, i)
        assert ours.carry_m[i] == pytest.approx(carry, abs=0.01 * YARD)
        assert ours.side_m[i] == pytest.approx(side, abs=0.01 * YARD)
        assert ours.apex_m[i] == pytest.approx(apex, abs=0.01 * YARD)
        assert ours.flight_time_s[i] == pytest.approx(time, abs=0.001)


def test_halving_the_step_changes_carry_by_less_than_a_hundredth_of_a_yard():
    launch, air = random_shots(count=4000, seed=7)
    whole, half = (fly(launch=launch, air=air, step_scale=scale) for scale in (1.0, 0.5))
    assert np.max(np.abs(whole.carry_m - half.carry_m)) < 0.01 * YARD


def test_every_shot_of_the_range_lands_within_twelve_seconds():
    launch, air = random_shots(count=20_000, seed=3)
    time = fly(launch=launch, air=air).flight_time_s
    assert np.isfinite(time).all()
    assert time.max() < 13


@settings(max_examples=40, deadline=None)
@given(speed=st.floats(20, 84), angle=st.floats(8, 50), spin=st.floats(1000, 12000), direction=st.floats(-20, 20),
       axis=st.floats(-60, 60), across=st.floats(-10, 10), along=st.floats(-10, 10))
def test_the_mirrored_shot_in_the_mirrored_wind_is_the_mirror_image(
    speed, angle, spin, direction, axis, across, along
):
    one, other = (
        fly(
            launch=Launch(ball_speed_mps=speed, launch_angle_deg=angle, spin_rpm=spin,
                          launch_direction_deg=sign * direction, spin_axis_deg=sign * axis),
            air=Air(density_kg_m3=1.2, kinematic_viscosity_m2_s=1.5e-5, wind_along_mps=along,
                    wind_slice_mps=sign * across),
        )
        for sign in (1, -1)
    )
    for name in Landing.__dataclass_fields__:
        sign = -1 if name in ("side_m", "curve_m") else 1
        assert getattr(one, name) == pytest.approx(sign * getattr(other, name), abs=1e-9, nan_ok=True), name


def test_signs_of_start_axis_and_wind_all_mean_the_slice_side():
    def side(**change):
        launch = {key: change.pop(key) for key in list(change) if key.endswith("_deg")}
        air = Air(density_kg_m3=1.2, kinematic_viscosity_m2_s=1.5e-5, **change)
        return fly(launch=Launch(ball_speed_mps=60, launch_angle_deg=13, spin_rpm=2800, **launch), air=air).side_m

    assert side(launch_direction_deg=3) > 0
    assert side(spin_axis_deg=10) > 0
    assert side(wind_slice_mps=4) > 0
    assert side(spin_axis_deg=-10) < 0


def test_a_tail_wind_helps_and_a_head_wind_costs_more():
    head, calm, tail = (
        fly(launch=DRIVE, air=Air(density_kg_m3=1.2, kinematic_viscosity_m2_s=1.5e-5, wind_along_mps=w)).carry_m
        for w in (-4.5, 0, 4.5)
    )
    assert calm - head > tail - calm > 0


def test_curve_is_measured_from_the_start_line_and_carry_is_the_straight_distance():
    straight = fly(launch=Launch(ball_speed_mps=60, launch_angle_deg=13, spin_rpm=2800, launch_direction_deg=7),
                   air=CALM)
    assert straight.curve_m == pytest.approx(0, abs=1e-9)
    assert straight.carry_m == pytest.approx(np.hypot(straight.side_m, straight.downrange_m), rel=1e-12)
    assert np.degrees(np.arctan2(straight.side_m, straight.downrange_m)) == pytest.approx(7, abs=1e-9)


@pytest.mark.parametrize(("speed", "angle", "spin", "lower", "higher"), [
    (140, 12.5, 2700, 7.5, -8.4), (116, 16, 5800, 4.9, -5.3), (88, 28, 8500, 3.9, -4.1),
])
def test_a_green_five_yards_lower_or_higher_changes_carry_as_computed_elsewhere(speed, angle, spin, lower, higher):
    launch = Launch(ball_speed_mps=speed * MPH, launch_angle_deg=angle, spin_rpm=spin)
    down, level, up = fly(launch=launch, air=CALM, landing_height_m=np.array([-5, 0, 5]) * YARD).carry_m / YARD
    assert down - level == pytest.approx(lower, abs=0.1)
    assert up - level == pytest.approx(higher, abs=0.1)


def test_a_height_above_the_apex_is_never_reached():
    assert np.isnan(fly(launch=DRIVE, air=CALM, landing_height_m=100.0).carry_m)


def test_multipliers_change_drag_and_lift_as_the_published_sensitivities_say():
    """Drag +5 % costs a 95 mph driver 6.5 yd, lift +5 % gives 4.3 yd: computed elsewhere with the same model."""
    plain, draggy, lifting = (
        fly(launch=DRIVE, air=CALM, ball=ball).carry_m / YARD
        for ball in (Ball(), Ball(drag_multiplier=1.05), Ball(lift_multiplier=1.05))
    )
    assert draggy - plain == pytest.approx(-6.5, abs=0.1)
    assert lifting - plain == pytest.approx(4.3, abs=0.1)


@pytest.mark.parametrize("bad", [
    {"ball_speed_mps": np.nan}, {"ball_speed_mps": np.inf}, {"ball_speed_mps": 0.0}, {"ball_speed_mps": -5.0},
    {"launch_angle_deg": np.nan}, {"launch_angle_deg": 0.0}, {"launch_angle_deg": -3.0}, {"spin_rpm": -1.0},
    {"spin_rpm": np.nan}, {"spin_axis_deg": np.nan}, {"launch_direction_deg": np.inf},
])
def test_a_launch_that_cannot_fly_gives_nan_and_leaves_the_others_alone(bad):
    good = {"ball_speed_mps": 60.0, "launch_angle_deg": 12.0, "spin_rpm": 2500.0, "spin_axis_deg": 0.0,
            "launch_direction_deg": 0.0}
    both = {key: np.array([value, {**good, **bad}[key]]) for key, value in good.items()}
    landing = fly(launch=Launch(**both), air=CALM)
    assert landing.carry_m[0] == fly(launch=Launch(**good), air=CALM).carry_m
    for name in Landing.__dataclass_fields__:
        assert np.isnan(getattr(landing, name)[1])


@pytest.mark.parametrize("air", [
    Air(density_kg_m3=np.nan, kinematic_viscosity_m2_s=1.5e-5),
    Air(density_kg_m3=-1.0, kinematic_viscosity_m2_s=1.5e-5),
    Air(density_kg_m3=1.2, kinematic_viscosity_m2_s=0.0),
])
def test_air_that_cannot_be_gives_nan(air):
    assert np.isnan(fly(launch=DRIVE, air=air).carry_m)


def test_numbers_give_numbers_arrays_broadcast_and_empty_stays_empty():
    assert np.ndim(fly(launch=DRIVE, air=CALM).carry_m) == 0
    speeds = np.array([[50.0], [60.0]])
    grid = fly(launch=Launch(ball_speed_mps=speeds, launch_angle_deg=np.array([9.0, 12, 15]), spin_rpm=2500), air=CALM)
    assert grid.carry_m.shape == (2, 3)
    one = fly(launch=Launch(ball_speed_mps=60, launch_angle_deg=15, spin_rpm=2500), air=CALM)
    assert grid.carry_m[1, 2] == pytest.approx(one.carry_m, rel=1e-14)
    empty = fly(launch=Launch(ball_speed_mps=np.array([]), launch_angle_deg=12, spin_rpm=2500), air=CALM)
    assert empty.carry_m.shape == (0,)


def test_more_balls_than_fit_at_once_are_flown_in_blocks_with_the_same_result():
    count = BALLS_AT_ONCE + 3
    speeds = np.linspace(30, 80, count)
    many = fly(launch=Launch(ball_speed_mps=speeds, launch_angle_deg=13, spin_rpm=3000), air=CALM).carry_m
    alone = fly(launch=Launch(ball_speed_mps=speeds[[0, -1]], launch_angle_deg=13, spin_rpm=3000), air=CALM).carry_m
    np.testing.assert_allclose(many[[0, -1]], alone, rtol=1e-13)


@pytest.mark.parametrize(("change", "inside"), [
    ({}, True), ({"ball_speed_mps": 17.8}, False), ({"ball_speed_mps": 85.0}, False),
    ({"launch_angle_deg": 7.9}, False),
    ({"launch_angle_deg": 8.0}, True), ({"launch_angle_deg": 50.0}, True), ({"launch_angle_deg": 50.1}, False),
    ({"spin_rpm": 999}, False), ({"spin_rpm": 12001}, False), ({"spin_rpm": np.nan}, False),
])
def test_launches_the_model_was_not_checked_on_are_told_apart(change, inside):
    values = {"ball_speed_mps": 60.0, "launch_angle_deg": 12.0, "spin_rpm": 2500.0, **change}
    assert within_range(launch=Launch(**values)) == inside


def test_the_drawn_flight_starts_at_the_ball_peaks_at_the_apex_and_ends_at_the_landing():
    speeds = np.array([60.0, 75.0, np.nan])
    launch = Launch(ball_speed_mps=speeds, launch_angle_deg=12.0, spin_rpm=2600, spin_axis_deg=8)
    curve, landing = trace(launch=launch, air=CALM), fly(launch=launch, air=CALM)
    assert curve.height_m.shape == (41, 3)
    np.testing.assert_array_equal(curve.downrange_m[0], [0, 0, np.nan])
    np.testing.assert_allclose(curve.downrange_m[-1], landing.downrange_m, atol=0.02)
    np.testing.assert_allclose(curve.side_m[-1], landing.side_m, atol=0.02)
    np.testing.assert_allclose(curve.height_m[-1, :2], 0, atol=0.02)
    np.testing.assert_allclose(curve.time_s[-1], landing.flight_time_s)
    np.testing.assert_allclose(curve.height_m.max(axis=0), landing.apex_m, atol=0.2)


def test_a_single_flight_is_drawn_as_one_line():
    assert trace(launch=DRIVE, air=CALM, points=11).height_m.shape == (11,)
