"""A block's carry at the reference, and two visits compared with the error they share."""

import numpy as np
import pytest

from metrics.constants import MODEL_VERSION
from metrics.flight.air import air_at
from metrics.flight.normalise import normalise
from metrics.flight.reasons import REFUSALS
from metrics.flight.reference import REFERENCE, ReferenceCondition
from metrics.flight.types import Launch
from metrics.flight.visit import block_at_reference, compare_blocks, why

from .outside import MPH, YARD


def _block(*, temperature=20.0, mean_yd=218.0, n=20, speed=140.0, angle=12.5, spin=2700.0, category="driver",
           seed=1, **change):
    carry = np.random.default_rng(seed).normal(mean_yd, 8, n) * YARD
    given = {
        "carry_m": carry, "category": category, "provenance": "measured",
        "launch": Launch(ball_speed_mps=speed * MPH, launch_angle_deg=angle, spin_rpm=spin),
        "air": air_at(temperature_c=temperature, pressure_hpa=1013.25), **change,
    }
    return block_at_reference(normalised=normalise(**given))


IRON = {"speed": 116.0, "angle": 16.0, "spin": 5800.0, "category": "mid_iron", "mean_yd": 160.0}


def test_the_mean_is_over_the_same_balls_measured_and_corrected():
    block = _block(temperature=5.0)
    assert block.n == 20
    assert block.carry_m - block.measured_m == pytest.approx(block.correction_m, abs=1e-9)
    assert block.correction_m / YARD == pytest.approx(3.5, abs=0.06)


def test_more_balls_shrink_the_error_of_the_balls_but_not_the_common_one():
    few, many = _block(temperature=5.0, n=10), _block(temperature=5.0, n=1000)
    assert many.shot_error_m < few.shot_error_m / 5
    assert many.common_error_m == pytest.approx(few.common_error_m)
    assert many.standard_error_m >= many.common_error_m


def test_the_error_of_the_balls_is_the_standard_error_of_a_mean():
    carry = np.array([200.0, 210.0, 190.0, 204.0])
    block = _block(carry_m=carry)
    assert block.shot_error_m == pytest.approx(np.std(carry, ddof=1) / 2, rel=1e-12)
    assert _block(carry_m=carry[:2]).shot_error_m == pytest.approx(5.0, rel=1e-12)


def test_the_block_keeps_what_its_number_rests_on():
    block = _block()
    assert (block.category, block.reference, block.model_version) == ("driver", REFERENCE, MODEL_VERSION)


@pytest.mark.parametrize(("shot", "model_yd", "never_yd"), [({}, 2.2, 4.4), (IRON, 1.5, 3.0)])
def test_the_model_error_between_a_5_and_a_30_degree_visit_does_not_average_out(shot, model_yd, never_yd):
    """Driver 2.2 yd, 6-iron 1.5 yd whatever the number of balls; worked elsewhere. Input errors come on top."""
    cold, hot = (_block(temperature=t, n=5000, seed=t, **shot) for t in (5, 30))
    change = compare_blocks(first=cold, second=hot)
    inputs = np.hypot(cold.input_error_m, hot.input_error_m)
    assert np.sqrt(change.common_error_m**2 - inputs**2) / YARD == pytest.approx(model_yd, abs=0.06)
    assert 2 * change.standard_error_m / YARD >= never_yd


def test_two_visits_in_the_same_air_share_the_models_error_away():
    one, other = _block(temperature=5.0, seed=1), _block(temperature=5.0, seed=2)
    change = compare_blocks(first=one, second=other)
    assert change.common_error_m == pytest.approx(np.hypot(one.input_error_m, other.input_error_m), rel=1e-9)
    assert change.change_m == pytest.approx(other.measured_m - one.measured_m, abs=1e-9)
    assert change.standard_error_m == pytest.approx(np.hypot(change.shot_error_m, change.common_error_m))


def test_wind_on_one_visit_adds_its_own_share():
    calm = _block(seed=1)
    blown = _block(seed=2, air=air_at(temperature_c=20, pressure_hpa=1013.25, wind_along_mps=-10 * MPH))
    change = compare_blocks(first=calm, second=blown)
    inputs = np.hypot(calm.input_error_m, blown.input_error_m)
    assert np.sqrt(change.common_error_m**2 - inputs**2) / YARD == pytest.approx(0.25 * 11.2, abs=0.05)


def test_the_same_wind_on_both_visits_cancels_as_the_same_cold_does():
    wind = air_at(temperature_c=20, pressure_hpa=1013.25, wind_along_mps=-3.0)
    one, other = _block(seed=1, air=wind), _block(seed=2, air=wind)
    change = compare_blocks(first=one, second=other)
    assert change.common_error_m == pytest.approx(np.hypot(one.input_error_m, other.input_error_m), rel=1e-9)


def test_an_estimated_spin_doubles_the_common_model_error():
    cold = _block(temperature=5.0, n=2000)
    known = compare_blocks(first=cold, second=_block(temperature=30.0, n=2000))
    hot = _block(temperature=30.0, n=2000, spin=np.nan)
    guessed = compare_blocks(first=cold, second=hot)
    model = [np.sqrt(change.common_error_m**2 - cold.input_error_m**2 - inputs**2)
             for change, inputs in ((known, cold.input_error_m), (guessed, hot.input_error_m))]
    assert model[1] == pytest.approx(2 * model[0], rel=1e-9)


def test_balls_that_cannot_be_corrected_are_left_out_and_counted():
    speeds = np.array([62.0] * 8 + [np.nan] * 3)
    block = _block(n=11, launch=Launch(ball_speed_mps=speeds, launch_angle_deg=12.0, spin_rpm=2700.0))
    assert (block.n, block.left_out, block.refusal) == (8, {"no_ball_speed": 3}, "")


def test_mixed_provenance_is_never_averaged():
    block = _block(n=4, provenance=["measured", "measured", "computed", "measured"])
    assert block.refusal == "mixed_provenance"
    assert block.n == 0 and np.isnan(block.carry_m) and np.isnan(block.measured_m)
    assert why(visit=block, system="yards") == REFUSALS["mixed_provenance"]


def test_the_provenance_of_a_ball_without_a_carry_does_not_mix():
    carry = np.array([200.0, 201.0, np.nan])
    assert _block(carry_m=carry, provenance=["measured", "measured", "computed"]).refusal == ""


def test_mixed_clubs_are_never_averaged():
    assert _block(n=2, category=["driver", "mid_iron"]).refusal == "different_club"


@pytest.mark.parametrize(("change", "code"), [
    ({"air": None}, "no_air"), ({"indoor": True}, "indoor"), ({"provenance": "computed"}, "computed"),
    ({"air": air_at(temperature_c=20, altitude_m=0, wind_along_mps=9.0)}, "windy"),
    ({"carry_m": np.full(20, np.nan)}, "no_carry"), ({"carry_m": np.array([])}, "no_carry"),
])
def test_a_block_without_any_number_says_why(change, code):
    block = _block(**change)
    assert block.refusal == code
    assert why(visit=block, system="metres") == REFUSALS[code]
    assert compare_blocks(first=_block(), second=block).refusal == code


def test_a_single_ball_has_a_carry_but_no_error_of_its_own():
    block = _block(n=1)
    assert np.isfinite(block.carry_m) and np.isnan(block.standard_error_m)
    assert "this ball would carry" in why(visit=block, system="yards")


def test_different_clubs_and_different_references_are_not_compared():
    driver = _block()
    assert compare_blocks(first=driver, second=_block(**IRON)).refusal == "different_club"
    other = _block(reference=ReferenceCondition(temperature_c=15.0))
    change = compare_blocks(first=driver, second=other)
    assert change.refusal == "different_reference"
    assert np.isnan([change.change_m, change.shot_error_m, change.common_error_m, change.standard_error_m]).all()


@pytest.mark.parametrize(("system", "temperature", "sentence"), [
    ("yards", 5.0, "In the reference air (20 °C at sea level, no wind) these 20 balls would carry 3.5 yd more than "
                   "measured, give or take 1.4 yd."),
    ("metres", 30.0, "In the reference air (20 °C at sea level, no wind) these 20 balls would carry 1.8 m less than "
                     "measured, give or take 0.8 m."),
])
def test_the_sentence_says_what_was_corrected_and_how_sure_that_is(system, temperature, sentence):
    assert why(visit=_block(temperature=temperature), system=system) == sentence


def test_the_sentence_names_the_wind_and_what_was_assumed():
    head = air_at(temperature_c=20, pressure_hpa=1013.25, wind_along_mps=-3.0)
    said = why(visit=_block(air=head), system="yards")
    assert said.startswith("In the reference air") and "give or take" in said
    assert "The measured wind took off" in said
    tail = air_at(temperature_c=20, pressure_hpa=1013.25, wind_along_mps=3.0)
    assert "The measured wind added" in why(visit=_block(air=tail), system="yards")
    assert why(visit=_block(spin=np.nan), system="yards").startswith("In the reference air")
    assert "Estimated spin" in why(visit=_block(spin=np.nan), system="yards")
    assert "Outside the launches" in why(visit=_block(spin=800.0), system="yards")
