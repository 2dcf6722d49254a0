"""The one place that knows miles per hour, yards, feet, inches, Fahrenheit and the like.

Inside the program every quantity has exactly one unit, named in its key: m/s, m, mm (strike), cm (low
point), s, hPa, °C, and, excepted from SI, degrees and rpm. ``to_si`` is the door, ``from_si`` and
``display`` are the window. All factors are exact by definition (international yard and pound agreement
of 1959; the conventional inch of mercury at 0 °C); tests compare every one with pint.
"""

import math
import re
from typing import Literal, TypeVar

import numpy as np
from numpy.typing import NDArray

from metrics.fields import FIELDS, Dimension

Quantity = Dimension | Literal["temperature", "pressure"]
"""The dimensions of the shot fields, and the two that only the weather has."""

System = Literal["yards", "metres"]
"""What the reader chose: yards, mph and inches, or metres, km/h and centimetres."""

Number = TypeVar("Number", float, NDArray[np.float64])

_SPELLINGS: dict[str, tuple[str, ...]] = {
    "m/s": ("mps", "m/sec", "metre per second", "meter per second", "metre per sec", "meter per sec"),
    "km/h": ("kmh", "kph", "km/hr", "kilometre per hour", "kilometer per hour"),
    "mph": ("mi/h", "mile per hour"),
    "ft/s": ("fps", "ft/sec", "foot per second", "feet per second"),
    "kn": ("kt", "knot"),
    "m": ("metre", "meter"),
    "cm": ("centimetre", "centimeter"),
    "mm": ("millimetre", "millimeter"),
    "yd": ("yard",),
    "ft": ("foot", "feet", "'", "′"),
    "in": ("inch", "inches", '"', "″"),
    "°": ("deg", "degree"),
    "rad": ("radian",),
    "rpm": ("rev/min", "r/min", "1/min", "revs/min", "rev per minute", "revolution per minute"),
    "rad/s": ("rad/sec", "radian per second"),
    "s": ("sec", "second"),
    "ms": ("msec", "millisecond"),
    "": ("-", "ratio", "none", "x"),
    "%": ("percent", "pct"),
    "°C": ("c", "degc", "celsius", "degree celsius"),
    "°F": ("f", "degf", "fahrenheit", "degree fahrenheit"),
    "K": ("kelvin",),
    "hPa": ("mbar", "mb", "millibar", "hectopascal"),
    "Pa": ("pascal",),
    "kPa": ("kilopascal",),
    "inHg": ("in hg", "inch of mercury", "inches of mercury"),
    "mmHg": ("mm hg", "torr", "millimetre of mercury", "millimeter of mercury"),
}
_LENGTHS_M = {"m": 1.0, "cm": 0.01, "mm": 0.001, "yd": 0.9144, "ft": 0.3048, "in": 0.0254}
_FACTORS: dict[str, dict[str, float]] = {
    "speed": {"m/s": 1.0, "km/h": 1000 / 3600, "mph": 0.44704, "ft/s": 0.3048, "kn": 1852 / 3600},
    "distance": _LENGTHS_M,
    "small_length": {unit: metres * 1000 for unit, metres in _LENGTHS_M.items()},
    "low_point": {unit: metres * 100 for unit, metres in _LENGTHS_M.items()},
    "angle": {"°": 1.0, "rad": 180 / math.pi},
    "rotation": {"rpm": 1.0, "rad/s": 30 / math.pi},
    "time": {"s": 1.0, "ms": 0.001},
    "ratio": {"": 1.0, "%": 0.01},
    "temperature": {"°C": 1.0, "°F": 5 / 9, "K": 1.0},
    "pressure": {"hPa": 1.0, "Pa": 0.01, "kPa": 10.0, "inHg": 33.86389, "mmHg": 1.33322387415},
}
_ZERO_OFFSETS = {"°F": -32.0, "K": -273.15}

UNITS: dict[str, tuple[str, ...]] = {dimension: tuple(units) for dimension, units in _FACTORS.items()}
"""Dimension -> the units accepted for it, in the spelling the screens use.
``inside_unit`` says which of them the program keeps."""

_SHOWN: dict[System, dict[str, tuple[str, int]]] = {
    "yards": {"speed": ("mph", 0), "distance": ("yd", 0), "small_length": ("in", 2), "low_point": ("in", 1)},
    "metres": {"speed": ("km/h", 0), "distance": ("m", 0), "small_length": ("mm", 0), "low_point": ("cm", 0)},
}
"""System -> dimension -> unit shown, and decimals added to the field's own."""


class UnitError(ValueError):
    """A unit that is not known for the quantity; the message is a sentence for the person who typed it."""


def _plain(name: str) -> str:
    """Fold case, spaces, full stops and a plural s, so that "Yds." and "yd" are one name."""
    text = re.sub(r"[\s.]+", " ", name.strip().lower()).strip().replace("º", "°")
    text = text.replace("metres per", "metre per").replace("meters per", "meter per")
    return re.sub(r"^([a-z]{2,}?)s(?= |$)", r"\1", text).replace(" ", "")


_SPELLED: dict[str, dict[str, str]] = {
    dimension: {
        _plain(spelling): unit for unit in reversed(units) for spelling in (unit, *_SPELLINGS[unit])
    }
    for dimension, units in UNITS.items()
}
"""Dimension -> folded spelling -> unit; where two units share a spelling the first of the table keeps it."""


def unit_named(*, name: str, dimension: Quantity) -> str:
    """Return the program's spelling of a unit name as people and files write it.

    Case, spaces, full stops and plurals do not matter: "Yds", "yards" and "yd" are "yd".
    Raises ``UnitError`` with the accepted units where the name is not a unit of this dimension.

    >>> unit_named(name="Yards", dimension="distance"), unit_named(name="KPH", dimension="speed")
    ('yd', 'km/h')
    """
    if name in _FACTORS[dimension]:  # as the program itself writes it, which is nearly always
        return name
    unit = _SPELLED[dimension].get(_plain(name))
    if unit is not None:
        return unit
    accepted = ", ".join(unit or "no unit" for unit in _FACTORS[dimension])
    raise UnitError(f"“{name}” is not a unit of {dimension.replace('_', ' ')} here; expected {accepted}.")


def inside_unit(*, dimension: Quantity) -> str:
    """Return the unit in which the program keeps this dimension ("m/s", "m", "mm", "cm", "°", …)."""
    special = {"small_length": "mm", "low_point": "cm"}
    return special.get(dimension) or UNITS[dimension][0]


def to_si(*, value: Number, unit: str, dimension: Quantity) -> Number:
    """Convert from any accepted unit to the inside unit of the dimension.

    Float or float array of any shape; the result has the same shape. NaN stays NaN and infinity stays
    infinite, no range is checked. Raises ``UnitError`` for an unknown unit.

    >>> to_si(value=100.0, unit="mph", dimension="speed")
    44.704
    """
    known = unit_named(name=unit, dimension=dimension)
    return (value + _ZERO_OFFSETS.get(known, 0.0)) * _FACTORS[dimension][known]


def from_si(*, value: Number, unit: str, dimension: Quantity) -> Number:
    """Convert from the inside unit of the dimension to any accepted unit; the reverse of ``to_si``.

    >>> from_si(value=20.0, unit="°F", dimension="temperature")
    68.0
    """
    known = unit_named(name=unit, dimension=dimension)
    return value / _FACTORS[dimension][known] - _ZERO_OFFSETS.get(known, 0.0)


def display_unit(*, field_key: str, system: System) -> str:
    """Return the unit in which a shot field is shown in the reader's system."""
    field = FIELDS[field_key]
    return _SHOWN[system].get(field.dimension, (field.unit, 0))[0]


def display_digits(*, field_key: str, system: System) -> int:
    """Return the decimals worth showing for a shot field in the reader's system."""
    field = FIELDS[field_key]
    return field.digits + _SHOWN[system].get(field.dimension, (field.unit, 0))[1]


def display(*, field_key: str, value: Number, system: System) -> tuple[Number, str]:
    """Return a shot field's value and unit in the reader's system, not rounded.

    Float or float array; NaN and infinity pass through. Fields without a system of their own (angles,
    spin, time, ratios) keep their unit. Raises ``KeyError`` for an unknown field or system.

    >>> display(field_key="carry_m", value=182.88, system="yards")
    (200.0, 'yd')
    """
    unit = display_unit(field_key=field_key, system=system)
    return from_si(value=value, unit=unit, dimension=FIELDS[field_key].dimension), unit


def from_display(*, field_key: str, value: Number, system: System) -> Number:
    """Return a typed value in the field's stored unit; the reverse of ``display``."""
    unit = display_unit(field_key=field_key, system=system)
    return to_si(value=value, unit=unit, dimension=FIELDS[field_key].dimension)
