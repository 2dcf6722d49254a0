"""The air of the day: pressure at the venue, density and viscosity."""

import numpy as np

from metrics.constants import STANDARD_PRESSURE_HPA
from metrics.flight.types import Air, Values

_KELVIN = 273.15
_EARTH_RADIUS_M = 6_356_766.0

TEMPERATURE_LIMITS_C = (-20.0, 50.0)
PRESSURE_LIMITS_HPA = (600.0, 1085.0)
ALTITUDE_LIMITS_M = (-430.0, 4500.0)


class AirError(ValueError):
    """Weather that cannot be; the message is a sentence for the person who typed it."""


def standard_pressure_hpa(*, altitude_m: Values) -> Values:
    """Return the pressure of the standard atmosphere at an altitude above sea level [hPa].

    p = 1013.25 (1 − 0.0065 H / 288.15)^5.25588, H the geopotential altitude. Any shape; valid from −2000
    to 11,000 m, beyond that the formula is still computed but is no longer the standard atmosphere.
    Source: U.S. Standard Atmosphere 1976 (handbook table read).
    """
    altitude = np.asarray(altitude_m, dtype=float)
    geopotential = _EARTH_RADIUS_M * altitude / (_EARTH_RADIUS_M + altitude)
    ratio = (1 - 0.0065 * geopotential / 288.15) ** 5.255876
    return (STANDARD_PRESSURE_HPA * ratio)[()]


def station_pressure_hpa(
    *, pressure_hpa: float | None = None, altitude_m: float | None = None, sea_level_hpa: float | None = None
) -> float:
    """Return the pressure at the venue [hPa] from whichever of the three ways is known.

    The station pressure itself is used as it stands. Otherwise the altitude gives the standard pressure,
    and a sea-level reading (what a weather report says) scales it. A sea-level reading alone is refused:
    used as station pressure at 1600 m it would make the air 21 % too dense.
    Raises ``AirError`` where nothing usable or something impossible was given.
    """
    if pressure_hpa is not None:
        return _checked(pressure_hpa, "air pressure", "hPa", PRESSURE_LIMITS_HPA)
    if altitude_m is None:
        if sea_level_hpa is not None:
            raise AirError("A sea-level pressure needs the altitude of the venue beside it.")
        raise AirError("The air needs either the pressure at the venue or its altitude.")
    _checked(altitude_m, "altitude", "m", ALTITUDE_LIMITS_M)
    sea_level = STANDARD_PRESSURE_HPA if sea_level_hpa is None else sea_level_hpa
    _checked(sea_level, "sea-level pressure", "hPa", (900.0, 1085.0))
    return float(standard_pressure_hpa(altitude_m=altitude_m) * sea_level / STANDARD_PRESSURE_HPA)


def density_kg_m3(*, temperature_c: Values, pressure_hpa: Values, humidity_percent: Values = 50.0) -> Values:
    """Return the density of moist air [kg/m³].

    ρ = p Mₐ / (Z R T) · (1 − xᵥ (1 − Mᵥ/Mₐ)), CIPM-2007. Any shape; NaN stays NaN. Within 0.1 % of CoolProp
    over −5..40 °C, 700..1040 hPa and 0..100 %; outside it is computed all the same, unchecked.
    Source: Picard et al. 2008, Metrologia 45, 149-155; coefficients written from memory, then checked against
    CoolProp and five published worked values.
    """
    celsius = np.asarray(temperature_c, dtype=float)
    kelvin = celsius + _KELVIN
    pascal = np.asarray(pressure_hpa, dtype=float) * 100
    vapour = _vapour_fraction(celsius, pascal, np.asarray(humidity_percent, dtype=float) / 100)
    return (
        pascal * 28.96546e-3 / (_compressibility(celsius, pascal, vapour) * 8.314472 * kelvin)
        * (1 - vapour * (1 - 18.01528 / 28.96546))
    )[()]


def _vapour_fraction(celsius: Values, pascal: Values, humidity: Values) -> Values:
    """Mole fraction of water vapour, CIPM-2007."""
    kelvin = celsius + _KELVIN
    saturated = np.exp(1.2378847e-5 * kelvin**2 - 1.9121316e-2 * kelvin + 33.93711047 - 6343.1645 / kelvin)
    enhancement = 1.00062 + 3.14e-8 * pascal + 5.6e-7 * celsius**2
    return humidity * enhancement * saturated / pascal


def _compressibility(celsius: Values, pascal: Values, vapour: Values) -> Values:
    """Compressibility factor of moist air, CIPM-2007; about 0.9996."""
    over = pascal / (celsius + _KELVIN)
    return (
        1
        - over * (1.58123e-6 - 2.9331e-8 * celsius + 1.1043e-10 * celsius**2
                  + (5.707e-6 - 2.051e-8 * celsius) * vapour
                  + (1.9898e-4 - 2.376e-6 * celsius) * vapour**2)
        + over**2 * (1.83e-11 - 0.765e-8 * vapour**2)
    )


def dynamic_viscosity_pa_s(*, temperature_c: Values) -> Values:
    """Return the dynamic viscosity of air [Pa s]: Sutherland, 1.458e-6 T^1.5 / (T + 110.4).

    Any shape; 15 °C gives 1.7894e-5. Source: U.S. Standard Atmosphere 1976.
    """
    kelvin = np.asarray(temperature_c, dtype=float) + _KELVIN
    return (1.458e-6 * kelvin**1.5 / (kelvin + 110.4))[()]


def air_at(
    *,
    temperature_c: float,
    pressure_hpa: float | None = None,
    altitude_m: float | None = None,
    sea_level_hpa: float | None = None,
    humidity_percent: float = 50.0,
    wind_along_mps: float = 0.0,
    wind_slice_mps: float = 0.0,
) -> Air:
    """Return the air of one venue and hour from what a coach can read off.

    Temperature to 1 °C and pressure to 5 hPa (or altitude to 50 m) are enough; humidity hardly matters.
    Raises ``AirError`` with a sentence for what is missing or cannot be.
    """
    _checked(temperature_c, "air temperature", "°C", TEMPERATURE_LIMITS_C)
    _checked(humidity_percent, "humidity", "%", (0.0, 100.0))
    for wind in (wind_along_mps, wind_slice_mps):
        _checked(wind, "wind", "m/s", (-40.0, 40.0))
    pressure = station_pressure_hpa(
        pressure_hpa=pressure_hpa, altitude_m=altitude_m, sea_level_hpa=sea_level_hpa
    )
    density = density_kg_m3(
        temperature_c=temperature_c, pressure_hpa=pressure, humidity_percent=humidity_percent
    )
    return Air(
        density_kg_m3=density,
        kinematic_viscosity_m2_s=dynamic_viscosity_pa_s(temperature_c=temperature_c) / density,
        wind_along_mps=wind_along_mps,
        wind_slice_mps=wind_slice_mps,
    )


def _checked(value: float, what: str, unit: str, limits: tuple[float, float]) -> float:
    low, high = limits
    if not low <= value <= high:  # also catches NaN
        raise AirError(f"The {what} is given as {value:g} {unit}; expected {low:g} to {high:g} {unit}.")
    return value
