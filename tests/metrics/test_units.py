"""The door and the window of units; every factor is compared with pint 0.25, an independent registry."""

import math

import numpy as np
import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from metrics.fields import FIELDS
from metrics.units import (
    UNITS,
    UnitError,
    display,
    display_digits,
    display_unit,
    from_display,
    from_si,
    inside_unit,
    to_si,
    unit_named,
)

_PINT = pint.UnitRegistry()
_PINT_NAMES = {"°": "degree", "°C": "degC", "°F": "degF", "kn": "knot", "inHg": "inHg", "mmHg": "mmHg",
               "": "dimensionless", "yd": "yard", "ft": "foot", "in": "inch", "%": "percent", "K": "kelvin",
               "ft/s": "foot/second"}
_EVERY_UNIT = [(dimension, unit) for dimension, units in UNITS.items() for unit in units]
_FINITE = st.floats(min_value=-1e6, max_value=1e6)


@pytest.mark.parametrize(("dimension", "unit"), _EVERY_UNIT)
def test_every_unit_agrees_with_pint(dimension, unit):
    inside = inside_unit(dimension=dimension)
    outside = _PINT.Quantity(12.5, _PINT_NAMES.get(unit, unit)).to(_PINT_NAMES.get(inside, inside))
    # pint rounds the conventional inch of mercury in the seventh figure.
    assert to_si(value=12.5, unit=unit, dimension=dimension) == pytest.approx(outside.magnitude, rel=2e-7)


@pytest.mark.parametrize(("unit", "dimension", "expected"), [
    ("mph", "speed", 0.44704), ("yd", "distance", 0.9144), ("ft", "distance", 0.3048),
    ("in", "small_length", 25.4), ("in", "low_point", 2.54),
])
def test_factors_defined_by_law_are_exact(unit, dimension, expected):
    assert to_si(value=1.0, unit=unit, dimension=dimension) == pytest.approx(expected, rel=1e-15)


@pytest.mark.parametrize(("dimension", "unit"), _EVERY_UNIT)
@settings(deadline=None)
@given(value=_FINITE)
def test_there_and_back_again_changes_nothing(dimension, unit, value):
    there = to_si(value=value, unit=unit, dimension=dimension)
    back = from_si(value=there, unit=unit, dimension=dimension)
    assert back == pytest.approx(value, rel=1e-12, abs=1e-9)


@pytest.mark.parametrize(("written", "dimension", "meant"), [
    ("mph", "speed", "mph"), ("MPH", "speed", "mph"), ("miles per hour", "speed", "mph"),
    ("km/h", "speed", "km/h"), ("kph", "speed", "km/h"), ("m/s", "speed", "m/s"), ("mps", "speed", "m/s"),
    ("Knots", "speed", "kn"), ("yds", "distance", "yd"), ("Yds.", "distance", "yd"),
    ("yd", "distance", "yd"), ("Feet", "distance", "ft"), ("metres", "distance", "m"),
    ("meters", "distance", "m"), ("in", "small_length", "in"), ("inches", "low_point", "in"),
    ("mm", "small_length", "mm"), ("cm", "low_point", "cm"), ("deg", "angle", "°"),
    ("Degrees", "angle", "°"), ("°", "angle", "°"), ("rpm", "rotation", "rpm"),
    ("revs/min", "rotation", "rpm"), ("s", "time", "s"), ("sec", "time", "s"), ("ms", "time", "ms"),
    ("°F", "temperature", "°F"), ("deg F", "temperature", "°F"), ("º F", "temperature", "°F"),
    ("metres per second", "speed", "m/s"), ("Meters per sec.", "speed", "m/s"), ("C", "temperature", "°C"),
    ("mbar", "pressure", "hPa"), ("inHg", "pressure", "inHg"), ("", "ratio", ""),
])
def test_units_are_known_as_people_and_files_write_them(written, dimension, meant):
    assert unit_named(name=written, dimension=dimension) == meant


def test_an_unknown_unit_is_refused_with_what_was_expected():
    with pytest.raises(UnitError, match="“furlong” is not a unit of distance here; expected m, cm, mm, yd"):
        to_si(value=1.0, unit="furlong", dimension="distance")


def test_a_unit_of_another_quantity_is_refused():
    with pytest.raises(UnitError, match="not a unit of speed"):
        to_si(value=1.0, unit="yd", dimension="speed")


def test_a_refusal_names_the_quantity_and_says_no_unit_in_words():
    with pytest.raises(UnitError, match="“mph” is not a unit of small length here"):
        unit_named(name="mph", dimension="small_length")
    with pytest.raises(UnitError, match="is not a unit of ratio here; expected no unit, %."):
        unit_named(name="mph", dimension="ratio")


@pytest.mark.parametrize(("field_key", "system", "digits"), [
    ("strike_heel_toe_mm", "yards", 2), ("strike_heel_toe_mm", "metres", 0), ("low_point_cm", "yards", 2),
    ("carry_m", "yards", 1), ("spin_rpm", "yards", 0), ("smash_factor", "metres", 2),
])
def test_inches_are_shown_with_two_decimals_and_the_rest_with_the_fields_own(field_key, system, digits):
    assert display_digits(field_key=field_key, system=system) == digits


def test_arrays_keep_their_shape_and_what_is_missing_stays_missing():
    speeds = np.array([[100.0, np.nan], [np.inf, 0.0]])
    inside = to_si(value=speeds, unit="mph", dimension="speed")
    np.testing.assert_array_equal(inside, [[44.704, np.nan], [np.inf, 0.0]])
    assert to_si(value=np.array([]), unit="mph", dimension="speed").shape == (0,)
    assert math.isnan(to_si(value=math.nan, unit="yd", dimension="distance"))


@pytest.mark.parametrize(("field_key", "value", "system", "number", "unit"), [
    ("carry_m", 182.88, "yards", 200.0, "yd"),
    ("carry_m", 182.88, "metres", 182.88, "m"),
    ("club_speed_mps", 44.704, "yards", 100.0, "mph"),
    ("club_speed_mps", 10.0, "metres", 36.0, "km/h"),
    ("strike_heel_toe_mm", 25.4, "yards", 1.0, "in"),
    ("strike_heel_toe_mm", 8.0, "metres", 8.0, "mm"),
    ("low_point_cm", 2.54, "yards", 1.0, "in"),
    ("low_point_cm", -3.0, "metres", -3.0, "cm"),
    ("spin_rpm", 2700.0, "yards", 2700.0, "rpm"),
    ("face_angle_deg", 1.5, "metres", 1.5, "°"),
])
def test_a_field_is_shown_in_the_readers_units(field_key, value, system, number, unit):
    shown, shown_unit = display(field_key=field_key, value=value, system=system)
    assert shown == pytest.approx(number, rel=1e-12)
    assert shown_unit == unit


@pytest.mark.parametrize("system", ["yards", "metres"])
@pytest.mark.parametrize("field_key", FIELDS)
def test_every_field_can_be_shown_and_typed_back_in_both_systems(field_key, system):
    shown, unit = display(field_key=field_key, value=1.25, system=system)
    assert unit == display_unit(field_key=field_key, system=system)
    assert display_digits(field_key=field_key, system=system) >= 0
    assert from_display(field_key=field_key, value=shown, system=system) == pytest.approx(1.25, rel=1e-12)


@pytest.mark.parametrize("field_key", FIELDS)
def test_every_field_is_stored_in_the_inside_unit_of_its_dimension(field_key):
    field = FIELDS[field_key]
    assert inside_unit(dimension=field.dimension) == field.unit
