"""Does the correction help if nature is another ball? Other published coefficients play the truth."""

import functools

import numpy as np
import pytest

from metrics.flight.air import air_at
from metrics.flight.normalise import normalise
from metrics.flight.reference import REFERENCE
from metrics.flight.trajectory import fly
from metrics.flight.types import Launch

from .outside import MPH, YARD

SHOTS = {"driver": (140, 12.5, 2700), "mid_iron": (116, 16, 5800), "wedge_full": (88, 28, 8500)}
WEATHER = (
    {"temperature_c": 5.0}, {"temperature_c": 30.0}, {"pressure_hpa": 835.2354},
    {"wind_along_mps": -10 * MPH}, {"wind_along_mps": 10 * MPH},
)


def _quintavalla_2002(*, spin_ratio, reynolds):
    return 0.171 + 0.62 * spin_ratio, 0.083 + 0.885 * spin_ratio


def _smits_and_smith_1994(*, spin_ratio, reynolds):
    wave = 0.06 * np.sin(np.pi * (reynolds - 90_000) / 200_000)
    return 0.24 + 0.18 * spin_ratio + wave, 0.54 * spin_ratio**0.4


def _smits_and_smith_without_reynolds(*, spin_ratio, reynolds):
    return 0.24 + 0.18 * spin_ratio, 0.54 * spin_ratio**0.4


BALLS = (_quintavalla_2002, _smits_and_smith_1994, _smits_and_smith_without_reynolds)
"""Closed forms read second-hand; comparison only."""


@pytest.mark.parametrize(("ball", "expected"), [
    (_quintavalla_2002, -3.5), (_smits_and_smith_1994, -7.1), (_smits_and_smith_without_reynolds, -4.5),
])
def test_the_other_balls_lose_in_the_cold_what_was_computed_for_them_elsewhere(ball, expected):
    """A 140 mph drive at 5 °C against 20 °C, in yards."""
    launch = Launch(ball_speed_mps=140 * MPH, launch_angle_deg=12.5, spin_rpm=2700)
    cold, standard = (
        fly(launch=launch, air=air_at(temperature_c=t, pressure_hpa=1013.25), coefficients=ball).carry_m / YARD
        for t in (5, 20)
    )
    assert cold - standard == pytest.approx(expected, abs=0.15)


@functools.cache
def _errors(ball):
    """Yards off before and after correcting, and the error our program states, for all shots and weathers."""
    found = []
    for category, (speed, angle, spin) in SHOTS.items():
        launch = Launch(ball_speed_mps=speed * MPH, launch_angle_deg=angle, spin_rpm=spin)
        truth = fly(launch=launch, air=REFERENCE.air, coefficients=ball).carry_m
        for weather in WEATHER:
            air = air_at(**{"temperature_c": 20.0, "pressure_hpa": 1013.25, **weather})
            measured = fly(launch=launch, air=air, coefficients=ball).carry_m
            stated = normalise(carry_m=measured, launch=launch, air=air, category=category, provenance="measured")
            found.append([(measured - truth) / YARD, (stated.carry_m - truth) / YARD, stated.model_error_m / YARD])
    return found


@pytest.mark.parametrize("ball", BALLS)
def test_correcting_leaves_less_than_half_of_the_weather_whatever_the_ball(ball):
    before, after, _ = np.array(_errors(ball)).T
    assert np.sqrt(np.mean(after**2)) < 0.5 * np.sqrt(np.mean(before**2))


def test_what_is_left_is_covered_by_twice_the_stated_model_error_in_three_of_four_cases():
    """Not in 19 of 20: two of the three balls are Smits & Smith's, whose lift lies above all later data."""
    _, after, stated = np.array([row for ball in BALLS for row in _errors(ball)]).T
    assert np.mean(np.abs(after) <= 2 * stated) >= 0.75
