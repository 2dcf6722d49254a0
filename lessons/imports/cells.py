"""One column of a table into numbers in SI, player-relative: units, directions, bounds, one cell at a time
only where a cell is not plainly written."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from metrics.fields import FIELDS, MIRRORED, Field
from metrics.units import from_si, to_si

from .numbers import NotANumber, is_blank, parse_number
from .sides import Side, example, side_of, split_cell
from .table import Table
from .types import ColumnMatch, Problem
from .unit_words import unit_of


@dataclass(frozen=True, kw_only=True)
class Signs:
    """How a file's plus is turned into the player's: ``file`` for bare signs, ``target`` for left and right."""

    file: int
    target: int

    @classmethod
    def of(cls, *, hand: str, file_sign: str) -> "Signs":
        """Return the signs for a hand ("right"/"left") and a file's convention ("right"/"player").

        In a "right" file + is right of the target whoever plays, so it is mirrored for a left-hander; in a
        "player" file + is the slice side already. Left and right in words are always the target's.
        """
        target = -1 if hand == "left" else 1
        return cls(file=target if file_sign == "right" else 1, target=target)


@dataclass(frozen=True, kw_only=True)
class Read:
    """One column: values in the field's unit (NaN where the cell is blank), and what could not be read."""

    values: NDArray[np.float64]
    bad: dict[int, Problem]


def read_field(table: Table, field_key: str, match: ColumnMatch, *, signs: Signs) -> Read:
    """Return the values of one field, shape (rows,), in its stored unit and with + on the slice side."""
    field = FIELDS[field_key]
    unit = match.unit or field.unit
    written, closer = table.numbers(match.heading)
    values = to_si(value=written, unit=unit, dimension=field.dimension)
    if field_key in MIRRORED and signs.file < 0:
        values = 0.0 - values  # never −0
    bad: dict[int, Problem] = {}
    if closer:
        values = values.copy()
        texts = table.texts(match.heading)
    for index in closer:
        try:
            number, side, cell_unit = _look_closer(texts[index], field, decimal=table.dialect.decimal)
            values[index] = _settled(number, side, field=field, unit=cell_unit or unit, signs=signs)
            _refuse_other_unit(cell_unit, stated=match.unit, field=field)
        except NotANumber as error:
            bad[index] = Problem(row=int(table.lines[index]), column=match.heading, text=texts[index],
                                 expected=str(error))
    return Read(values=values, bad=bad | _out_of_bounds(values, table, field, match, known=bad))


def cell_units(table: Table, heading: str, *, dimension: str, limit: int = 200) -> dict[str, int]:
    """Return the units written beside the numbers of a column ("182 yd"), with how often, in its first rows."""
    found: dict[str, int] = {}
    closer = [index for index in table.numbers(heading)[1] if index < limit]  # a plain number has no unit beside it
    texts = table.first(limit).texts(heading) if closer else ()
    for index in closer:
        parts = split_cell(texts[index])
        for word in (parts[2].split() if parts else ()):
            unit = unit_of(word, dimension)
            if unit:
                found[unit] = found.get(unit, 0) + 1
    return found


def _look_closer(text: str, field: Field, *, decimal: str) -> tuple[float | None, Side | None, str | None]:
    """Return (number, direction, unit) of a cell that is not a plain number. Raises ``NotANumber``."""
    try:
        return parse_number(text, decimal=decimal), None, None
    except NotANumber as error:
        reason = NotANumber(str(error) + example(field.key))
    parts = split_cell(text)
    if not parts:
        raise reason
    before, number, after = parts
    side, unit = None, None
    for word in [before, *after.split()] if after.split() else [before]:
        if not word:
            continue
        if unit is None and (unit := unit_of(word, field.dimension)) is not None:
            continue
        side, seen = side_of(word, field=field.key), side
        if side is None or seen is not None:
            raise reason
    if side is None and after:
        side = side_of(after, field=field.key)
    if side and number[:1] in ("-", "+"):
        raise NotANumber(f"either a sign or a direction, not both{example(field.key)}")
    try:
        return parse_number(number, decimal=decimal), side, unit
    except NotANumber as error:
        raise NotANumber(str(error) + example(field.key)) from None


def _settled(number: float | None, side: Side | None, *, field: Field, unit: str, signs: Signs) -> float:
    if number is None:
        return np.nan
    value = to_si(value=number, unit=unit, dimension=field.dimension)
    if side:
        return value * side.sign * (signs.target if side.by_target else 1) + 0.0
    return value * (signs.file if field.key in MIRRORED else 1) + 0.0


def _refuse_other_unit(found: str | None, *, stated: str | None, field: Field) -> None:
    if found and stated and unit_of(stated, field.dimension) != found:
        raise NotANumber(f"a value in {stated}, as the column says")


def _out_of_bounds(values: NDArray[np.float64], table: Table, field: Field, match: ColumnMatch, *,
                   known: Mapping[int, Problem]) -> dict[int, Problem]:
    """Return a problem for each value that no ball can have: a slip of the pen, or the wrong unit or column."""
    with np.errstate(invalid="ignore"):
        outside = np.flatnonzero((values < field.lower) | (values > field.upper)).tolist()
    outside = [index for index in outside if index not in known]
    if not outside:
        return {}
    texts = table.texts(match.heading)
    expected = _bounds_sentence(field, match.unit or field.unit)
    return {index: Problem(row=int(table.lines[index]), column=match.heading, text=texts[index], expected=expected)
            for index in outside if not is_blank(texts[index])}


def _bounds_sentence(field: Field, unit: str) -> str:
    low, high = (from_si(value=bound, unit=unit, dimension=field.dimension) for bound in (field.lower, field.upper))
    shown = unit_of(unit, field.dimension) or ""
    return f"{field.label.lower()} between {low:.4g} and {high:.4g}" + (f" {shown}" if shown else "")
