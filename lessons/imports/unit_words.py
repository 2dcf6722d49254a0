"""Unit names as headings, units rows and cells write them, in several languages, to the program's own."""

import re
from functools import lru_cache

from metrics.fields import FIELDS
from metrics.units import UNITS, UnitError, unit_named

from .numbers import tidy
from .words import plain_words

_FOREIGN = {
    "meter": "m", "metros": "m", "metro": "m", "metri": "m", "metre": "m", "metres": "m", "mtr": "m", "mtrs": "m",
    "メートル": "m", "미터": "m", "米": "m", "yarda": "yd", "yardas": "yd", "iarde": "yd", "jardas": "yd",
    "ヤード": "yd", "야드": "yd", "码": "yd", "y": "yd", "yrd": "yd", "yrds": "yd",
    "fuss": "ft", "pied": "ft", "pieds": "ft", "pies": "ft", "piedi": "ft", "fot": "ft", "voet": "ft",
    "フィート": "ft", "피트": "ft", "zoll": "in", "pouce": "in", "pouces": "in", "pulgadas": "in", "pollici": "in",
    "tum": "in", "インチ": "in", "grad": "°", "degre": "°", "degres": "°", "grados": "°", "gradi": "°",
    "grader": "°", "graden": "°", "graus": "°", "度": "°", "도": "°", "u min": "rpm", "umin": "rpm", "upm": "rpm",
    "tr min": "rpm", "trs min": "rpm", "v min": "rpm", "rpm": "rpm", "回転": "rpm", "mph": "mph",
    "km std": "km/h", "kmt": "km/h", "km t": "km/h", "mi h": "mph", "sekunden": "s", "sek": "s", "seg": "s",
    "secondes": "s", "segundos": "s", "secondi": "s", "sekunder": "s", "秒": "s", "초": "s", "miles h": "mph",
}
_BRACKETS = re.compile(r"\s*[(\[{（［]([^()\[\]{}（）［］]*)[)\]}）］]\s*")
_BY_WORD = re.compile(r"(?P<base>.*[^\s,/_|·-])\s*[\s,/_|·-]\s*(?P<unit>[^\s,_|·-]+)", re.DOTALL)


@lru_cache(maxsize=4096)
def unit_of(text: str, dimension: str) -> str | None:
    """Return the program's unit for a written one, or None where it is no unit of this dimension.

    >>> unit_of("Yds.", "distance"), unit_of("U/min", "rotation"), unit_of("mph", "distance")
    ('yd', 'rpm', None)
    """
    plain = tidy(text).strip("()[]{} ")
    if not plain or plain == "-":
        return None
    foreign = _FOREIGN.get(plain_words(plain))
    for name in (plain, foreign):
        if name:
            try:
                return unit_named(name=name, dimension=dimension)
            except UnitError:
                continue
    return None


def is_any_unit(text: str) -> bool:
    """Return True where text is a unit of any dimension that a shot can have."""
    return any(unit_of(text, dimension) is not None for dimension in UNITS
               if dimension not in ("temperature", "pressure"))


def looks_like_units_cell(text: str) -> bool:
    """Return True for a cell of a units row: a unit, alone or in brackets."""
    bare = tidy(text)
    return is_any_unit(bare) or bool(re.fullmatch(r"[(\[{].*[)\]}]", bare))


@lru_cache(maxsize=4096)
def split_heading(heading: str) -> tuple[tuple[str, str], ...]:
    """Return the ways to read a heading as (name, unit text), the plainest last.

    >>> split_heading("Carry (yd)")
    (('Carry', 'yd'),)
    >>> split_heading("Ball Speed mph")
    (('Ball Speed', 'mph'), ('Ball Speed mph', ''))
    """
    inside = _BRACKETS.findall(heading)
    if inside:
        name = _BRACKETS.sub(" ", heading).strip()
        units = [text.strip() for text in inside if is_any_unit(text)]
        return ((name, units[-1] if units else ""),)
    readings = [(heading.strip(), "")]
    by_word = _BY_WORD.fullmatch(heading.strip())
    if by_word and is_any_unit(by_word["unit"]) and not by_word["unit"].isdigit():
        readings.insert(0, (by_word["base"].strip(), by_word["unit"]))
    return tuple(readings)


def heading_unit(heading: str, *, field: str) -> str | None:
    """Return the unit that a heading itself states for a field, or None."""
    dimension = FIELDS[field].dimension
    for _, text in split_heading(heading):
        unit = unit_of(text, dimension) if text else None
        if unit is not None:
            return unit
    return None
