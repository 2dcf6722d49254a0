"""Carry at the reference condition: worked corrections, errors, and every reason to refuse."""

import numpy as np
import pytest

from metrics.constants import MODEL_VERSION
from metrics.flight.air import air_at
from metrics.flight.errors import InputErrors
from metrics.flight.families import CLUBS
from metrics.flight.normalise import normalise
from metrics.flight.reasons import REFUSALS
from metrics.flight.reference import REFERENCE, ReferenceCondition
from metrics.flight.refuse import STRONGEST_WIND_MPS
from metrics.flight.trajectory import fly
from metrics.flight.types import Air, Ball, Launch

from .outside import MPH, YARD, rows

COLD = air_at(temperature_c=5, pressure_hpa=1013.25)
HOT = air_at(temperature_c=30, pressure_hpa=1013.25)
DRIVE = Launch(ball_speed_mps=140 * MPH, launch_angle_deg=12.5, spin_rpm=2700)
_WEATHER = {
    "5C": {"temperature_c": 5.0}, "30C": {"temperature_c": 30.0},
    "1600m 20C": {"pressure_hpa": 835.2354}, "1600m ISA 4.6C": {"pressure_hpa": 835.2354, "temperature_c": 4.6},
    "head 10mph": {"wind_along_mps": -10 * MPH}, "tail 10mph": {"wind_along_mps": 10 * MPH},
    "RH0": {"humidity_percent": 0.0}, "RH100": {"humidity_percent": 100.0},
    "30C RH0": {"temperature_c": 30.0, "humidity_percent": 0.0},
    "30C RH100": {"temperature_c": 30.0, "humidity_percent": 100.0},
    "p 980hPa": {"pressure_hpa": 980.0}, "p 1040hPa": {"pressure_hpa": 1040.0},
}


def _normalised(**change):
    given = {"carry_m": 200.0, "launch": DRIVE, "air": COLD, "category": "driver", "provenance": "measured"}
    return normalise(**{**given, **change})


@pytest.mark.parametrize("row", rows("carry_changes.csv"),
                         ids=lambda r: f"{r['club']} {r['ball_speed_mph']} {r['condition']}")
def test_corrections_worked_elsewhere_with_the_same_and_with_five_other_ball_models(row):
    """Ours to the printed decimal; the mean of six models within three of their standard deviations."""
    air = air_at(**{"temperature_c": 20.0, "pressure_hpa": 1013.25, **_WEATHER[row["condition"]]})
    launch = Launch(ball_speed_mps=float(row["ball_speed_mph"]) * MPH, launch_angle_deg=float(row["launch_angle_deg"]),
                    spin_rpm=float(row["spin_rpm"]))
    carry = float(row["carry_yd"])
    result = _normalised(carry_m=carry * YARD, launch=launch, air=air, category=row["club"])
    assert -result.correction_m / YARD == pytest.approx(float(row["change_yd"]), abs=0.06)
    gap = abs(-result.correction_m / YARD - float(row["mean_of_six_yd"]))
    assert gap <= max(3 * float(row["sd_of_six_yd"]), 0.2)
    assert gap <= 2 * result.model_error_m / YARD


def test_the_measured_carry_is_kept_and_only_the_difference_of_two_model_flights_is_added():
    result = _normalised(carry_m=231.0)
    assert result.measured_carry_m == 231.0
    still, reference = fly(launch=DRIVE, air=COLD), fly(launch=DRIVE, air=REFERENCE.air)
    assert result.carry_m == pytest.approx(231.0 + reference.carry_m - still.carry_m, abs=1e-12)
    assert result.carry_m != pytest.approx(reference.carry_m, abs=5)


def test_in_the_reference_air_nothing_changes_and_the_error_is_the_smallest():
    result = _normalised(air=REFERENCE.air)
    assert result.correction_m == pytest.approx(0, abs=1e-12)
    assert result.model_error_m == pytest.approx(0.5 * YARD)


def test_density_and_wind_are_told_apart_and_add_up():
    windy = Air(density_kg_m3=COLD.density_kg_m3, kinematic_viscosity_m2_s=COLD.kinematic_viscosity_m2_s,
                wind_along_mps=-3.0)
    result = _normalised(air=windy)
    assert result.density_correction_m == pytest.approx(_normalised().correction_m, abs=1e-12)
    assert result.wind_correction_m > 5
    across = _normalised(air=air_at(temperature_c=5, pressure_hpa=1013.25, wind_slice_mps=4.0))
    assert across.density_correction_m == pytest.approx(result.density_correction_m, abs=1e-9)
    assert result.correction_m == pytest.approx(result.density_correction_m + result.wind_correction_m, abs=1e-12)


@pytest.mark.parametrize(("category", "share"), [("driver", 0.40), ("fairway", 0.40), ("mid_iron", 0.20),
                                                 ("short_iron", 0.20), ("wedge_full", 0.15)])
def test_the_model_error_is_the_published_share_of_the_correction(category, share):
    thin = air_at(temperature_c=20, altitude_m=1600)
    result = _normalised(category=category, air=thin)
    assert result.model_error_m == pytest.approx(share * abs(result.correction_m), rel=1e-12)


def test_the_error_of_a_wind_correction_has_its_own_share():
    wind = air_at(temperature_c=20, pressure_hpa=1013.25, wind_along_mps=-4.0)
    assert _normalised(air=wind).model_error_m == pytest.approx(0.25 * abs(_normalised(air=wind).correction_m))


def test_the_weather_itself_adds_its_error_in_quadrature():
    """Driver: 0.21 yd per °C, 0.54 yd per 10 hPa, 1.1 yd per mph of wind; computed with the same model."""
    result = _normalised(errors=InputErrors(temperature_c=2.0, pressure_hpa=10.0))
    assert result.input_error_m / YARD == pytest.approx(np.hypot(0.42, 0.54), abs=0.01)
    assert result.standard_error_m == pytest.approx(np.hypot(result.model_error_m, result.input_error_m))
    windy = air_at(temperature_c=20, pressure_hpa=1013.25, wind_along_mps=-2.0)
    only_wind = InputErrors(temperature_c=0, pressure_hpa=0, wind_mps=3 * MPH)
    assert _normalised(air=windy, errors=only_wind).input_error_m / YARD == pytest.approx(3.4, abs=0.15)
    assert _normalised(errors=only_wind).input_error_m == 0


@pytest.mark.parametrize(("name", "value", "shot"), [
    ("carry_per_c", 1.0, {"temperature_c": 21.0}), ("carry_per_hpa", -10.0, {"pressure_hpa": 1023.25}),
    ("carry_per_wind", -1.0, {"wind_along_mps": -1.0}),
])
def test_the_sensitivities_are_those_of_the_flight_model(name, value, shot):
    launches = {"driver": DRIVE, "mid_iron": Launch(ball_speed_mps=116 * MPH, launch_angle_deg=16, spin_rpm=5800),
                "wedge_full": Launch(ball_speed_mps=88 * MPH, launch_angle_deg=28, spin_rpm=8500)}
    changed = air_at(**{"temperature_c": 20.0, "pressure_hpa": 1013.25, **shot})
    for category, launch in launches.items():
        gained = fly(launch=launch, air=changed).carry_m - fly(launch=launch, air=REFERENCE.air).carry_m
        assert gained / value == pytest.approx(getattr(CLUBS[category], name), rel=0.15), category


def test_a_missing_spin_takes_the_clubs_usual_one_and_doubles_the_error():
    guessed = _normalised(launch=Launch(ball_speed_mps=140 * MPH, launch_angle_deg=12.5, spin_rpm=np.nan))
    known = _normalised()
    assert guessed.estimated_spin and not known.estimated_spin
    assert guessed.carry_m == pytest.approx(known.carry_m, abs=1e-12)
    assert guessed.standard_error_m == pytest.approx(2 * known.standard_error_m, rel=1e-12)


def test_a_missing_start_or_axis_leaves_the_carry_and_refuses_the_side():
    launch = Launch(ball_speed_mps=60.0, launch_angle_deg=12.5, spin_rpm=2700,
                    launch_direction_deg=np.array([2.0, np.nan, 2.0]), spin_axis_deg=np.array([5.0, 5.0, np.nan]))
    result = _normalised(launch=launch, side_m=8.0)
    assert np.isfinite(result.carry_m).all()
    np.testing.assert_array_equal(np.isnan(result.side_m), [False, True, True])


def test_the_side_is_corrected_by_difference_too():
    blown = air_at(temperature_c=20, pressure_hpa=1013.25, wind_slice_mps=4.0)
    launch = Launch(ball_speed_mps=60.0, launch_angle_deg=12.5, spin_rpm=2700)
    drift = fly(launch=launch, air=blown).side_m
    assert _normalised(launch=launch, air=blown, side_m=10.0).side_m == pytest.approx(10.0 - drift, abs=1e-9)


def _drive(**change):
    return Launch(**{"ball_speed_mps": 62.0, "launch_angle_deg": 12.5, "spin_rpm": 2700.0, **change})


@pytest.mark.parametrize(("change", "code"), [
    ({"carry_m": np.nan}, "no_carry"),
    ({"provenance": "normalised"}, "already_normalised"),
    ({"indoor": True}, "indoor"),
    ({"provenance": "computed"}, "computed"),
    ({"provenance": ""}, "no_provenance"),
    ({"category": "chip"}, "not_a_full_flight"),
    ({"air": None}, "no_air"),
    ({"air": Air(density_kg_m3=np.nan, kinematic_viscosity_m2_s=1.5e-5)}, "no_air"),
    ({"air": air_at(temperature_c=20, altitude_m=0, wind_along_mps=-4.6)}, "windy"),
    ({"air": air_at(temperature_c=20, altitude_m=0, wind_along_mps=3.5, wind_slice_mps=3.5)}, "windy"),
    ({"launch": _drive(ball_speed_mps=np.nan)}, "no_ball_speed"),
    ({"launch": _drive(launch_angle_deg=np.nan)}, "no_launch_angle"),
    ({"launch": _drive(launch_angle_deg=7.9)}, "launch_low"),
    ({"carry_m": 45.0}, "carry_short"),
    ({"launch": _drive(ball_speed_mps=-3.0)}, "no_flight"),
])
def test_what_cannot_be_compared_is_refused_with_a_code_and_a_sentence(change, code):
    result = _normalised(**change)
    assert result.refusal == code
    assert np.isnan(result.carry_m) and np.isnan(result.standard_error_m) and np.isnan(result.correction_m)
    assert not result.estimated_spin and not result.outside_range
    assert REFUSALS[code].endswith(".")


@pytest.mark.parametrize("change", [
    {"launch": _drive(launch_angle_deg=8.0)}, {"carry_m": 45.72},
    {"air": air_at(temperature_c=20, altitude_m=0, wind_along_mps=-STRONGEST_WIND_MPS)},
])
def test_exactly_on_the_limit_is_still_compared(change):
    assert _normalised(**change).refusal == ""


def test_a_normalised_carry_is_never_normalised_again_even_outdoors_in_known_air():
    result = _normalised(provenance=["measured", "normalised"], carry_m=np.array([200.0, 200.0]))
    assert np.isfinite(result.carry_m[0]) and np.isnan(result.carry_m[1])


def test_a_launch_outside_the_models_range_is_computed_and_flagged():
    result = _normalised(launch=_drive(spin_rpm=700.0))
    assert result.outside_range and np.isfinite(result.carry_m)


def test_every_number_carries_its_reference_and_model_version():
    winter = ReferenceCondition(temperature_c=10.0)
    result = _normalised(reference=winter)
    assert (result.reference, result.model_version) == (winter, MODEL_VERSION)
    assert winter.words == "10 °C at sea level, no wind"
    assert ReferenceCondition(pressure_hpa=900.0).words == "20 °C at 900 hPa, no wind"
    assert result.carry_m < _normalised().carry_m


def test_a_students_multipliers_enter_both_flights():
    ball, windy = Ball(drag_multiplier=1.1), air_at(temperature_c=5, pressure_hpa=1013.25, wind_along_mps=0.8)
    still = air_at(temperature_c=5, pressure_hpa=1013.25)
    standard, calm, blown = (fly(launch=DRIVE, air=air, ball=ball).carry_m for air in (REFERENCE.air, still, windy))
    result = _normalised(ball=ball, air=windy)
    assert result.density_correction_m == pytest.approx(standard - calm, abs=1e-12)
    assert result.wind_correction_m == pytest.approx(calm - blown, abs=1e-12)


def test_many_balls_of_several_clubs_and_visits_at_once_are_as_one_by_one():
    categories = np.array(["driver", "mid_iron", "putter"])
    speeds, angles = np.array([62.0, 52.0, 5.0]), np.array([12.0, 16.0, 2.0])
    launch = Launch(ball_speed_mps=speeds, launch_angle_deg=angles, spin_rpm=4000)
    air = Air(density_kg_m3=np.array([1.26, 1.16, 1.2]), kinematic_viscosity_m2_s=1.5e-5,
              wind_along_mps=np.array([0.0, 3.0, 0.0]))
    together = _normalised(carry_m=np.array([200.0, 150.0, 3.0]), launch=launch, air=air, category=categories)
    assert together.refusal.tolist() == ["", "", "not_a_full_flight"]
    for i in (0, 1):
        alone = _normalised(
            carry_m=(200.0, 150.0)[i], category=categories[i],
            launch=Launch(ball_speed_mps=speeds[i], launch_angle_deg=angles[i], spin_rpm=4000),
            air=Air(density_kg_m3=air.density_kg_m3[i], kinematic_viscosity_m2_s=1.5e-5,
                    wind_along_mps=air.wind_along_mps[i]),
        )
        assert together.carry_m[i] == pytest.approx(alone.carry_m, abs=1e-9)
        assert together.standard_error_m[i] == pytest.approx(alone.standard_error_m, abs=1e-12)


def test_no_balls_give_no_numbers():
    assert _normalised(carry_m=np.array([])).carry_m.shape == (0,)
