"""Density, viscosity and pressure against published values, CoolProp and ambiance."""

import math

import ambiance
import numpy as np
import pytest
from CoolProp.HumidAirProp import HAPropsSI

from metrics.flight.air import (
    AirError,
    air_at,
    density_kg_m3,
    dynamic_viscosity_pa_s,
    standard_pressure_hpa,
    station_pressure_hpa,
)

from .outside import rows


@pytest.mark.parametrize("row", rows("air_density.csv"), ids=lambda row: row["source"])
def test_density_agrees_with_published_worked_values(row):
    density = density_kg_m3(
        temperature_c=float(row["temperature_c"]), pressure_hpa=float(row["pressure_hpa"]),
        humidity_percent=float(row["humidity_percent"]),
    )
    assert density == pytest.approx(float(row["density_kg_m3"]), abs=float(row["tolerance"]))


@pytest.mark.parametrize(("celsius", "hectopascal", "expected"), [
    (20, 1013.25, 1.1993), (5, 1013.25, 1.2677), (30, 1013.25, 1.1555), (20, 835.235, 0.9876),
])
def test_density_of_cipm_2007_picard_et_al_2008(celsius, hectopascal, expected):
    assert density_kg_m3(temperature_c=celsius, pressure_hpa=hectopascal) == pytest.approx(expected, abs=5e-5)


def test_density_is_within_a_thousandth_of_coolprop_over_the_whole_range():
    for celsius in (-5, 0, 12, 20, 31, 40):
        for hectopascal in (700, 835, 1013.25, 1040):
            for humidity in (0, 25, 50, 100):
                outside = 1 / HAPropsSI("Vha", "T", celsius + 273.15, "P", hectopascal * 100, "R", humidity / 100)
                ours = density_kg_m3(
                    temperature_c=celsius, pressure_hpa=hectopascal, humidity_percent=humidity
                )
                assert ours == pytest.approx(outside, rel=1e-3), (celsius, hectopascal, humidity)


def test_dry_air_at_20_degrees_as_in_penner_2001():
    assert density_kg_m3(temperature_c=20, pressure_hpa=1013.25, humidity_percent=0) == pytest.approx(1.204, abs=1e-3)


@pytest.mark.parametrize("row", rows("standard_atmosphere.csv"), ids=lambda row: row["altitude_m"] + " m")
def test_pressure_and_density_of_the_us_standard_atmosphere_1976(row):
    pressure = standard_pressure_hpa(altitude_m=float(row["altitude_m"]))
    assert pressure == pytest.approx(float(row["pressure_hpa"]), abs=float(row["pressure_tolerance_hpa"]))
    density = density_kg_m3(
        temperature_c=float(row["temperature_k"]) - 273.15, pressure_hpa=pressure, humidity_percent=0
    )
    # The table's air is an ideal gas; real air is denser by the compressibility, up to 0.05 %.
    assert density == pytest.approx(
        float(row["density_kg_m3"]), abs=float(row["density_tolerance_kg_m3"]) + 5e-4 * density
    )


@pytest.mark.parametrize("altitude", [-400, 0, 123, 850, 1609, 2500, 4400])
def test_pressure_agrees_with_the_library_ambiance(altitude):
    assert standard_pressure_hpa(altitude_m=altitude) == pytest.approx(
        ambiance.Atmosphere(altitude).pressure[0] / 100, rel=1e-5
    )


@pytest.mark.parametrize("altitude", [0, 2000, 4000])
def test_viscosity_agrees_with_the_library_ambiance(altitude):
    outside = ambiance.Atmosphere(altitude)
    assert dynamic_viscosity_pa_s(temperature_c=outside.temperature_in_celsius[0]) == pytest.approx(
        outside.dynamic_viscosity[0], rel=1e-4
    )


def test_viscosity_at_15_degrees_is_the_icao_constant():
    assert dynamic_viscosity_pa_s(temperature_c=15.0) == pytest.approx(1.7894e-5, abs=1e-9)


def test_the_station_pressure_is_used_as_it_stands():
    assert station_pressure_hpa(pressure_hpa=990.0, altitude_m=500.0, sea_level_hpa=1030.0) == 990.0


def test_a_sea_level_reading_is_brought_up_to_the_venue():
    high = station_pressure_hpa(altitude_m=1600.0, sea_level_hpa=1030.0)
    assert high == pytest.approx(835.277 * 1030 / 1013.25, abs=0.1)


def test_a_sea_level_reading_alone_is_refused():
    with pytest.raises(AirError, match="needs the altitude of the venue"):
        station_pressure_hpa(sea_level_hpa=1015.0)


def test_no_pressure_at_all_is_refused():
    with pytest.raises(AirError, match="either the pressure at the venue or its altitude"):
        station_pressure_hpa()


@pytest.mark.parametrize(("given", "sentence"), [
    ({"temperature_c": 68.0, "altitude_m": 0.0}, "air temperature is given as 68 °C; expected -20 to 50 °C"),
    ({"temperature_c": math.nan, "altitude_m": 0.0}, "air temperature is given as nan"),
    ({"temperature_c": 20.0, "pressure_hpa": 29.9}, "air pressure is given as 29.9 hPa; expected 600 to 1085"),
    ({"temperature_c": 20.0, "altitude_m": 9000.0}, "altitude is given as 9000 m; expected -430 to 4500 m"),
    ({"temperature_c": 20.0, "altitude_m": 0.0, "sea_level_hpa": 760.0}, "sea-level pressure is given as 760"),
    ({"temperature_c": 20.0, "altitude_m": 0.0, "humidity_percent": 140.0}, "humidity is given as 140 %"),
    ({"temperature_c": 20.0, "altitude_m": 0.0, "wind_along_mps": 90.0}, "wind is given as 90 m/s"),
    ({"temperature_c": 20.0, "altitude_m": 0.0, "wind_slice_mps": math.inf}, "wind is given as inf"),
])
def test_weather_that_cannot_be_is_refused_with_what_was_expected(given, sentence):
    with pytest.raises(AirError, match=sentence):
        air_at(**given)


@pytest.mark.parametrize("edge", [-20.0, 50.0])
def test_the_limits_of_the_temperature_are_still_accepted(edge):
    assert air_at(temperature_c=edge, altitude_m=0.0).density_kg_m3 > 1.0


def test_the_air_of_a_venue_carries_density_viscosity_and_wind():
    air = air_at(temperature_c=15.0, altitude_m=0.0, humidity_percent=0.0, wind_along_mps=2.0, wind_slice_mps=-1.0)
    assert air.kinematic_viscosity_m2_s == pytest.approx(1.460e-5, rel=1e-3)  # ICAO
    assert (air.wind_along_mps, air.wind_slice_mps) == (2.0, -1.0)


def test_arrays_keep_their_shape_and_what_is_missing_stays_missing():
    density = density_kg_m3(temperature_c=np.array([[20.0, np.nan], [5.0, 30.0]]), pressure_hpa=1013.25)
    assert density.shape == (2, 2)
    np.testing.assert_array_equal(np.isnan(density), [[False, True], [False, False]])
    assert density_kg_m3(temperature_c=np.array([]), pressure_hpa=1013.25).shape == (0,)
