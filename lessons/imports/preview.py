"""What the coach sees before anything is stored: a few balls, raw text beside the value that would go in."""

from dataclasses import dataclass

import numpy as np

from metrics.fields import FIELDS

from .cells import Signs, read_field
from .table import Table
from .types import Columns


@dataclass(frozen=True, kw_only=True)
class PreviewCell:
    """One cell: the text in the file, and the value in the field's unit, + = slice side (None: no value).

    ``expected`` is empty, or says what was expected where the text cannot be read.
    """

    field: str
    heading: str
    text: str
    value: float | None
    unit: str
    expected: str = ""


@dataclass(frozen=True, kw_only=True)
class PreviewRow:
    """One row of the file: its 1-based line, its text, and its matched cells in the order of the registry."""

    row: int
    raw: str
    cells: tuple[PreviewCell, ...]


def preview_rows(table: Table, columns: Columns, *, hand: str, file_sign: str = "right", count: int = 3,
                 ) -> list[PreviewRow]:
    """Return the first rows with their parsed values; problems stand in their cells.

    Arguments as for ``parse``. Rows of every player are shown: the match is what is being looked at.
    """
    head = table.first(count)
    signs = Signs.of(hand=hand, file_sign=file_sign)
    reads = {key: read_field(head, key, columns[key], signs=signs) for key in FIELDS if key in columns}
    texts = {key: head.texts(columns[key].heading) for key in reads}
    return [
        PreviewRow(row=int(head.lines[index]), raw=head.raw[index], cells=tuple(
            _cell(key, columns[key].heading, texts[key][index], float(read.values[index]),
                  read.bad[index].expected if index in read.bad else "")
            for key, read in reads.items()))
        for index in range(len(head.lines))
    ]


def _cell(key: str, heading: str, text: str, value: float, expected: str) -> PreviewCell:
    known = None if expected or np.isnan(value) else value
    return PreviewCell(field=key, heading=heading, text=text, value=known, unit=FIELDS[key].unit, expected=expected)
