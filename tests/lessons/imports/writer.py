"""Random tables written in random dialects, for the tests that read them back.

The expected values come from pint's factors, not from the program's own.
"""

import math
from dataclasses import dataclass

import pint
from hypothesis import strategies as st

from metrics.fields import FIELDS, MIRRORED

_UNITS = {
    "speed": ("m/s", "mph", "km/h"), "distance": ("m", "yd", "ft"), "small_length": ("mm", "in", "cm"),
    "low_point": ("cm", "in"), "angle": ("deg", "°"), "rotation": ("rpm",), "time": ("s",), "ratio": ("",),
}
_PINT = {"m/s": "meter/second", "mph": "mile/hour", "km/h": "kilometer/hour", "m": "meter", "yd": "yard",
         "ft": "foot", "mm": "millimeter", "in": "inch", "cm": "centimeter", "s": "second"}
_INSIDE = {"speed": "meter/second", "distance": "meter", "small_length": "millimeter", "low_point": "centimeter",
           "time": "second"}
_HEADINGS = {
    "club_speed_mps": ("Club Speed", "Schlägerkopfgeschwindigkeit", "ヘッドスピード"),
    "carry_m": ("Carry", "Flugweite"),
    "ball_speed_mps": ("Ball Speed", "Vitesse de balle"), "club_path_deg": ("Club Path", "club_path"),
    "spin_rpm": ("Spin Rate", "スピン量"), "side_m": ("Side", "Écart latéral"), "attack_angle_deg": ("AoA",),
    "low_point_cm": ("Low Point",), "strike_heel_toe_mm": ("Heel Toe",), "smash_factor": ("Smash Factor",),
    "apex_m": ("Apex", "Höhe"), "face_angle_deg": ("Face Angle",), "flight_time_s": ("Hang Time",),
}
_REGISTRY = pint.UnitRegistry(cache_folder=None)


@dataclass(frozen=True)
class Written:
    """A file, and what has to come out of it for a right-hander: field -> values, NaN as None."""

    data: bytes
    values: dict[str, list[float | None]]
    rows: int


@dataclass(frozen=True)
class Style:
    delimiter: str
    decimal: str
    group: str
    minus: str
    blank: str
    quoted: bool
    encoding: str
    newline: str
    titles: int
    units_row: bool
    footer: bool
    spaces: bool


@st.composite
def styles(draw, *, quotes: bool = True) -> Style:
    delimiter = draw(st.sampled_from([",", ";", "\t", "|"]))
    quoted = quotes and draw(st.booleans())
    decimal = "." if delimiter == "," and not quoted else draw(st.sampled_from(".,"))
    groups = ["", " ", "\u202f", "\u00a0", "'"]
    if quoted or delimiter != ",":
        groups.append("," if decimal == "." else ".")
    return Style(
        delimiter=delimiter, decimal=decimal, group=draw(st.sampled_from(groups)),
        minus=draw(st.sampled_from(["-", "\u2212", "\u2013"])),
        blank=draw(st.sampled_from(["", "-", "\u2013", "n/a"])),
        quoted=quoted, encoding=draw(st.sampled_from(["utf-8", "utf-8-sig", "utf-16", "utf-16-le"])),
        newline=draw(st.sampled_from(["\n", "\r\n", "\r"])), titles=draw(st.integers(0, 3)),
        units_row=draw(st.booleans()), footer=draw(st.booleans()), spaces=draw(st.booleans()))


@st.composite
def tables(draw, *, quotes: bool = True) -> Written:
    style = draw(styles(quotes=quotes))
    keys = draw(st.lists(st.sampled_from(sorted(_HEADINGS)), min_size=2, max_size=7, unique=True))
    count = draw(st.integers(1, 12))
    units = {key: draw(st.sampled_from(_UNITS[FIELDS[key].dimension])) for key in keys}
    digits = {key: draw(st.sampled_from([1, 2])) for key in keys}
    numbers = {key: [draw(_value(key, units[key], digits[key], may_lack=row > 0)) for row in range(count)]
               for key in keys}
    lines = [[_cell(numbers[key][row], digits[key], style) for key in keys] for row in range(count)]
    lines = [["Driver", *cells] for cells in lines]
    names = [draw(st.sampled_from(_HEADINGS[key])) for key in keys]
    head = [name if style.units_row or not units[key] else f"{name} ({units[key]})"
            for name, key in zip(names, keys, strict=True)]
    table = [["Club", *head]]
    if style.units_row:
        table.append(["", *(f"[{units[key]}]" if units[key] else "-" for key in keys)])
    table += lines
    if style.footer:
        table.append(["Average", *lines[0][1:]])
    text = [f"Title {place}" for place in range(style.titles)] + [_line(cells, style) for cells in table]
    values = {key: [None if v is None else factor(units[key], key) * v for v in numbers[key]] for key in keys}
    return Written(data=(style.newline.join(text) + style.newline).encode(style.encoding), values=values, rows=count)


def factor(unit: str, key: str) -> float:
    """Return pint's factor from a unit to the field's stored unit."""
    dimension = FIELDS[key].dimension
    if dimension not in _INSIDE:
        return 1.0
    return _REGISTRY.Quantity(1.0, _PINT[unit]).to(_INSIDE[dimension]).magnitude


def mirrored(key: str) -> bool:
    return key in MIRRORED


@st.composite
def _value(draw, key: str, unit: str, digits: int, *, may_lack: bool) -> float | None:
    if may_lack and draw(st.integers(0, 9)) == 0:
        return None
    field, scale = FIELDS[key], 10**digits
    low = math.ceil(field.lower / factor(unit, key) * scale * (1.02 if field.lower > 0 else 0.98))
    return draw(st.integers(low, int(field.upper / factor(unit, key) * scale * 0.98))) / scale


def _cell(value: float | None, digits: int, style: Style) -> str:
    if value is None:
        return style.blank
    whole, fraction = f"{abs(value):.{digits}f}".split(".")
    if len(whole) > 3:
        whole = whole[:-3] + style.group + whole[-3:]
    return (style.minus if value < 0 else "") + whole + style.decimal + fraction


def _line(cells: list[str], style: Style) -> str:
    if style.quoted:
        cells = [f'"{cell}"' for cell in cells]
    pad = " " if style.spaces and style.delimiter != "\t" else ""
    return (style.delimiter + pad).join(cells)
