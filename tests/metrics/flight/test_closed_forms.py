"""Flights that can be written down: without air, falling straight, flat with drag, in a moving frame."""

import math

import numpy as np
import pytest

from metrics.constants import BALL_MASS_KG, BALL_RADIUS_M, GRAVITY_MPS2
from metrics.flight.coefficients import drag_and_lift
from metrics.flight.launching import columns_of, start
from metrics.flight.motion import flow_around, rate_of_change, step
from metrics.flight.trajectory import fly
from metrics.flight.types import Air, Ball, Launch

VACUUM = Air(density_kg_m3=0.0, kinematic_viscosity_m2_s=1.5e-5)


def test_the_ball_is_the_heaviest_and_smallest_the_rules_of_golf_allow():
    """Equipment Rules Part 4: at most 45.93 g, at least 42.67 mm; they make the model's ball."""
    assert BALL_MASS_KG == 0.04593
    diameter_m = 2 * BALL_RADIUS_M
    assert diameter_m == pytest.approx(0.04267, rel=1e-15)


@pytest.mark.parametrize(("speed", "angle", "reach", "apex", "time"), [
    (50, 45, 254.929053, 63.732263, 7.210482), (60, 20, 235.965941, 21.471145, 4.185162),
    (70, 10, 170.894108, 7.533311, 2.479006), (40, 60, 141.296023, 61.182973, 7.064801),
])
def test_without_air_the_flight_is_galileos_parabola(speed, angle, reach, apex, time):
    """v² sin 2a / g, (v sin a)² / 2g, 2 v sin a / g; landing angle and speed are those of the launch."""
    landing = fly(launch=Launch(ball_speed_mps=speed, launch_angle_deg=angle, spin_rpm=3000), air=VACUUM)
    assert landing.carry_m == pytest.approx(reach, abs=1e-6)
    assert landing.apex_m == pytest.approx(apex, abs=1e-6)
    assert landing.flight_time_s == pytest.approx(time, abs=1e-6)
    assert landing.landing_angle_deg == pytest.approx(angle, abs=1e-6)
    assert landing.landing_speed_mps == pytest.approx(speed, abs=1e-6)
    assert landing.landing_spin_rpm == pytest.approx(3000, abs=1e-9)


@pytest.mark.parametrize("height", [-8.0, 5.0])
def test_without_air_a_lower_or_higher_landing_follows_the_parabola(height):
    launch = Launch(ball_speed_mps=50, launch_angle_deg=40, spin_rpm=0)
    landing = fly(launch=launch, air=VACUUM, landing_height_m=height)
    vx, vy = 50 * math.cos(math.radians(40)), 50 * math.sin(math.radians(40))
    time = (vy + math.sqrt(vy**2 - 2 * GRAVITY_MPS2 * height)) / GRAVITY_MPS2
    assert landing.flight_time_s == pytest.approx(time, abs=1e-9)
    assert landing.carry_m == pytest.approx(vx * time, abs=1e-7)


def test_a_hop_shorter_than_one_step_still_lands():
    landing = fly(launch=Launch(ball_speed_mps=0.5, launch_angle_deg=10, spin_rpm=0), air=VACUUM)
    assert landing.flight_time_s == pytest.approx(2 * 0.5 * math.sin(math.radians(10)) / GRAVITY_MPS2, rel=1e-9)


def test_a_hop_over_a_step_within_one_step_is_caught_on_its_way_down():
    launch = Launch(ball_speed_mps=0.3, launch_angle_deg=80, spin_rpm=0)
    hop = fly(launch=launch, air=VACUUM, landing_height_m=0.004)
    up = 0.3 * math.sin(math.radians(80))
    time = (up + math.sqrt(up**2 - 2 * GRAVITY_MPS2 * 0.004)) / GRAVITY_MPS2
    assert hop.flight_time_s == pytest.approx(time, rel=1e-9)


def _flow(*, drag, density, gravity=GRAVITY_MPS2, wind=(0.0, 0.0, 0.0), axis=(0.0, 0.0, 1.0), lift=0.0, model=None):
    one = np.ones(1)

    def constant(*, spin_ratio, reynolds):
        return drag + 0 * spin_ratio, lift + 0 * spin_ratio

    return flow_around(
        axis=np.array(axis).reshape(3, 1), wind_mps=np.array(wind).reshape(3, 1), density_kg_m3=density * one,
        kinematic_viscosity_m2_s=1.5e-5 * one, drag_multiplier=one, lift_multiplier=one, gravity_mps2=gravity,
        coefficients=drag_and_lift if model == "ball" else constant,
    )


def _advance(state, flow, seconds, steps):
    for _ in [None] * steps:
        state = step(state=state, flow=flow, step_s=seconds / steps)
    return state[:, 0]


def test_a_fall_from_rest_with_constant_drag():
    """v = vt tanh(g t / vt), y = vt²/g ln cosh(g t / vt): 26.068894 m/s and 41.493954 m after 3 s."""
    after = _advance(np.zeros((7, 1)), _flow(drag=0.24, density=1.2), 3.0, 60)
    assert -after[4] == pytest.approx(26.068894, abs=1e-5)
    assert -after[1] == pytest.approx(41.493954, abs=1e-5)


def test_a_flat_path_with_constant_drag_and_no_gravity():
    """v = v0/(1 + k v0 t), x = ln(1 + k v0 t)/k: 52.754149 m/s and 60.566230 m after 1 s at 70 m/s."""
    begin = np.array([0, 0, 0, 70.0, 0, 0, 0]).reshape(7, 1)
    after = _advance(begin, _flow(drag=0.25, density=1.2, gravity=0.0), 1.0, 40)
    assert after[3] == pytest.approx(52.754149, abs=1e-5)
    assert after[0] == pytest.approx(60.566230, abs=1e-5)


@pytest.mark.parametrize(("drag", "terminal"), [(0.25, 45.354), (0.30, 41.403), (0.45, 33.805), (0.50, 32.070)])
def test_at_terminal_speed_nothing_changes_any_more(drag, terminal):
    """√(2 m g / (ρ A CD)) at 1.225 kg/m³."""
    falling = np.array([0, 0, 0, 0, -terminal, 0, 0], dtype=float).reshape(7, 1)
    assert rate_of_change(motion=falling[3:], flow=_flow(drag=drag, density=1.225))[1, 0] == pytest.approx(0, abs=1e-3)


def test_lift_acts_at_right_angles_to_axis_and_flight_and_backspin_lifts():
    level = np.array([50.0, 0, 0, 300]).reshape(4, 1)
    change = rate_of_change(motion=level, flow=_flow(drag=0.0, lift=0.2, density=1.2, gravity=0.0))[:3, 0]
    assert change[1] > 0
    np.testing.assert_allclose(change[[0, 2]], 0, atol=1e-12)


def test_a_ball_at_rest_in_the_air_is_only_pulled_down():
    still = np.array([0.0, 0, 0, 300]).reshape(4, 1)
    change = rate_of_change(motion=still, flow=_flow(drag=0.0, density=1.2, model="ball"))
    np.testing.assert_allclose(change[:, 0], [0, -GRAVITY_MPS2, 0, 0], atol=1e-12)


def test_spin_decays_with_the_measured_time_constant():
    """23.8 s ± 0.3 at 100 mph: Smits & Smith 1994, quoted by Nathan 2008."""
    flying = np.array([44.704, 0, 0, 300.0]).reshape(4, 1)
    rate = rate_of_change(motion=flying, flow=_flow(drag=0.2, density=1.2))[3, 0]
    assert 300 / -rate == pytest.approx(23.8, abs=0.3)


def test_spin_loss_of_a_fast_iron_shot():
    """340 rpm/s ± 25 at 120 mph and 7097 rpm: Dewhurst 2015."""
    flying = np.array([53.645, 0, 0, 7097 * math.pi / 30]).reshape(4, 1)
    rate = rate_of_change(motion=flying, flow=_flow(drag=0.2, density=1.2))[3, 0]
    assert -rate * 30 / math.pi == pytest.approx(340, abs=25)


def test_uniform_wind_is_the_same_as_moving_along_with_it():
    """Galileo: in wind W the flight is the still-air flight launched with v − W, shifted by W t."""
    launch = Launch(ball_speed_mps=63.0, launch_angle_deg=14.0, spin_rpm=3100.0, launch_direction_deg=2.0,
                    spin_axis_deg=-9.0)
    wind = np.array([-4.0, 0.0, 3.0])
    _, columns = columns_of(
        launch=launch, ball=Ball(),
        air=Air(density_kg_m3=1.2, kinematic_viscosity_m2_s=1.5e-5, wind_along_mps=-4.0, wind_slice_mps=3.0),
    )
    state, windy = start(columns=columns)
    still = _flow(drag=0.0, density=1.2, axis=tuple(windy.axis[:, 0]), model="ball")
    moving = state.copy()
    moving[3:6, 0] -= wind
    counts = range(1, 60)
    for count in counts:
        state = step(state=state, flow=windy, step_s=0.1)
        moving = step(state=moving, flow=still, step_s=0.1)
        np.testing.assert_allclose(state[:3, 0], moving[:3, 0] + wind * count * 0.1, atol=1e-9)
