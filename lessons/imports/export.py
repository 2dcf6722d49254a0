"""Tables out as CSV: text that no spreadsheet runs as a formula, numbers that stay numbers."""

import csv
import io
import math
import re
from collections.abc import Mapping, Sequence
from datetime import date, datetime

_RUNS = re.compile(r"'*[=+\-@\t\r\n＝＋－＠]")
"""Beginnings that a spreadsheet may take for a formula, or that hide one."""

Cell = str | int | float | bool | date | datetime | None


def safe_text(text: str) -> str:
    """Return text with an apostrophe before whatever a spreadsheet would run; ``plain_text`` takes it off.

    >>> safe_text("=2+5"), safe_text("Ana"), plain_text(safe_text("'=2+5"))
    ("'=2+5", 'Ana', "'=2+5")
    """
    return "'" + text if _RUNS.match(text) else text


def plain_text(text: str) -> str:
    """Return text as it was before ``safe_text``; every other text is returned as it is."""
    return text[1:] if text[:1] == "'" and _RUNS.match(text[1:]) else text


def csv_text(columns: Mapping[str, Sequence[Cell]]) -> str:
    """Return columns of equal length as CSV with a row of headings, lines ended by CR LF (RFC 4180).

    Numbers are written in full with a decimal point and never quoted; text is always quoted and made
    safe; None and NaN are empty; moments are ISO 8601. Raises ``ValueError`` for columns of unequal length
    and for infinite numbers.
    """
    out = io.StringIO()
    # Quoted text keeps its cell even where a spreadsheet parts cells by semicolons.
    writer = csv.writer(out, quoting=csv.QUOTE_NONNUMERIC, lineterminator="\r\n")
    writer.writerow([safe_text(heading) for heading in columns])
    plain = [_column(heading, cells) for heading, cells in columns.items()]
    for row in zip(*plain, strict=True):
        writer.writerow(row)
    return out.getvalue()


def csv_bytes(columns: Mapping[str, Sequence[Cell]]) -> bytes:
    """Return ``csv_text`` in UTF-8 with the mark by which spreadsheets recognise it."""
    return csv_text(columns).encode("utf-8-sig")


def _column(heading: str, cells: Sequence[Cell]) -> list[object]:
    return [_cell(heading, cell) for cell in (cells.tolist() if hasattr(cells, "tolist") else cells)]


def _cell(heading: str, cell: Cell) -> object:
    if cell is None:
        return _EMPTY
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, int):
        return cell
    if isinstance(cell, float):
        if math.isinf(cell):
            raise ValueError(f"{heading} holds an infinite number; it cannot be exported.")
        return _EMPTY if math.isnan(cell) else cell
    if isinstance(cell, (date, datetime)):
        return cell.isoformat()
    return safe_text(cell)


class _Empty(float):
    """An empty cell without quotes: the writer takes it for a number and prints its text."""

    def __repr__(self) -> str:
        return ""

    __str__ = __repr__


_EMPTY = _Empty()
