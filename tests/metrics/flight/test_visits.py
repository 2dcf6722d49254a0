"""Several visits as one side: each counts once, and the model's error does not shrink with visits."""

from dataclasses import replace

import numpy as np
import pytest

from metrics.flight.air import air_at
from metrics.flight.normalise import normalise
from metrics.flight.reference import ReferenceCondition
from metrics.flight.types import Launch
from metrics.flight.visit import block_at_reference, compare_blocks
from metrics.flight.visits import mean_of_blocks

from .outside import MPH, YARD


def visit(*, temperature: float, n: int = 12, mean_yd: float = 218.0, seed: int = 1):
    carry = np.random.default_rng(seed).normal(mean_yd, 8, n) * YARD
    return block_at_reference(normalised=normalise(
        carry_m=carry, category="driver", provenance="measured",
        launch=Launch(ball_speed_mps=140 * MPH, launch_angle_deg=12.5, spin_rpm=2700.0),
        air=air_at(temperature_c=temperature, pressure_hpa=1013.25),
    ))


def test_one_block_as_a_side_is_the_block_itself():
    block = visit(temperature=5.0)
    assert mean_of_blocks(blocks=[block]) == block


def test_every_visit_counts_once_however_many_balls_it_has():
    few, many = visit(temperature=5.0, n=8), visit(temperature=25.0, n=200, seed=2)
    side = mean_of_blocks(blocks=[few, many])
    assert side.carry_m == pytest.approx((few.carry_m + many.carry_m) / 2)
    assert side.n == 208


def test_the_errors_of_balls_and_weather_shrink_with_visits_and_the_models_does_not():
    block = visit(temperature=5.0)
    side = mean_of_blocks(blocks=[block] * 4)
    assert side.shot_error_m == pytest.approx(block.shot_error_m / 2)
    assert side.input_error_m == pytest.approx(block.input_error_m / 2)
    assert side.model_error_m == pytest.approx(block.model_error_m)


def test_between_cold_and_hot_visits_the_models_error_is_its_share_of_the_difference_of_the_corrections():
    """Driver, 5 °C against 30 °C: 0.40 of 5.5 yd is 2.2 yd, from one visit a side or from three; worked by hand."""
    for seeds in ((1,), (1, 2, 3)):
        cold = mean_of_blocks(blocks=[visit(temperature=5.0, seed=seed) for seed in seeds])
        hot = mean_of_blocks(blocks=[visit(temperature=30.0, seed=9 + seed) for seed in seeds])
        weather = np.hypot(cold.input_error_m, hot.input_error_m)
        common = compare_blocks(first=cold, second=hot).common_error_m
        assert np.sqrt(common**2 - weather**2) / YARD == pytest.approx(2.2, abs=0.06)


def test_a_refused_block_another_club_or_another_reference_refuses_the_side():
    block = visit(temperature=5.0)
    for other, code in (
        (replace(block, refusal="windy"), "windy"),
        (replace(block, category="mid_iron"), "different_club"),
        (replace(block, reference=ReferenceCondition(temperature_c=15.0)), "different_reference"),
        (replace(block, model_version="flight-0"), "different_reference"),
    ):
        side = mean_of_blocks(blocks=[block, other])
        assert side.refusal == code
        assert np.isnan(side.carry_m)


def test_a_side_without_a_visit_is_a_mistake_said_in_words():
    with pytest.raises(ValueError, match="at least one block"):
        mean_of_blocks(blocks=[])
