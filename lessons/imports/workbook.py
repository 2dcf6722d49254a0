"""Spreadsheet workbooks (.xlsx) to the same table: cells as they are stored, nothing calculated.

A workbook is an archive that a few kilobytes can blow up to gigabytes, so its sizes are looked at before
anything is unpacked. Formulas are not evaluated: their text stays in the cell, where it is then named as
a problem.
"""

import io
import warnings
import zipfile
from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date, datetime, time

from .columns import known_word
from .reader import MAX_COLUMNS, build_table
from .table import Table
from .types import AmbiguousFile, UnreadableFile

MAX_UNPACKED = 400 * 1024 * 1024
MAX_RATIO = 200
MAX_PARTS = 2000
MAX_ROWS = 200_000
MAX_CELLS = 8_000_000
"""In all sheets together, the empty ones before a filled one included: a cell that is only claimed costs a few bytes
in the file and a whole place in memory."""

Cell = str | float


def read_workbook(data: bytes, *, filename: str, decimal: str | None = None, sheet: str | None = None) -> Table:
    """Return the table in a workbook. Raises ``UnreadableFile`` or ``AmbiguousFile`` with a sentence."""
    _refuse_bombs(data)
    import openpyxl  # Loaded only for workbooks.

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # Styles and extensions that openpyxl does not know; not ours.
            book = openpyxl.load_workbook(io.BytesIO(data), read_only=True, data_only=False, keep_links=False)
            sheets = _sheets(book.worksheets)
    except UnreadableFile:
        raise
    except Exception as error:  # The reader raises whatever its parts raise on a broken archive.
        raise UnreadableFile("The workbook cannot be opened: it is damaged, protected by a password, or another "
                             f"kind of archive ({type(error).__name__}). Expected an .xlsx file.") from None
    title = _choose(sheets, sheet)
    # A row ends at its last cell with something in it: the cells after that are empty, not missing.
    width = max(len(row) for row in sheets[title])
    _refuse_too_many_cells(width * len(sheets[title]))
    rows = [row + [""] * (width - len(row)) for row in sheets[title]]
    raw = ["\t".join(_text(cell) for cell in row) for row in rows]
    table = build_table(rows, lines=range(1, len(rows) + 1), raw=raw, filename=filename, encoding="xlsx",
                        delimiter="\t", decimal=decimal)
    return table if len(sheets) == 1 else _with_note(table, title, sheets)


def _refuse_bombs(data: bytes) -> None:
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            parts = archive.infolist()
    except (zipfile.BadZipFile, ValueError, OSError, NotImplementedError):
        raise UnreadableFile("The workbook is damaged or not complete: its archive cannot be opened.") from None
    names = {part.filename for part in parts}
    if "[Content_Types].xml" not in names:
        raise UnreadableFile("This is an archive, not an .xlsx workbook. Unpack it and choose the file inside.")
    unpacked = sum(part.file_size for part in parts)
    if unpacked > MAX_UNPACKED or len(parts) > MAX_PARTS or unpacked > max(MAX_RATIO * len(data), 20_000_000):
        raise UnreadableFile(f"The workbook would unpack to {unpacked / 1e6:,.0f} MB in {len(parts)} parts, which is "
                             "far more than a table of balls needs. It was not opened.")


def _sheets(pages: Iterable) -> dict[str, list[list[Cell]]]:
    """Return each sheet's rows. Raises ``UnreadableFile`` as soon as they are more than a table of balls needs."""
    sheets: dict[str, list[list[Cell]]] = {}
    cells = 0
    for page in pages:
        rows = sheets[page.title] = []
        for row in _rows(page):
            cells += max(1, len(row))  # An empty row that was only skipped over takes a place too.
            _refuse_too_many_cells(cells)
            rows.append(row)
    return sheets


def _refuse_too_many_cells(cells: int) -> None:
    if cells > MAX_CELLS:
        raise UnreadableFile(f"The workbook has more than {MAX_CELLS:,} cells, empty ones in between included. Save "
                             "the sheet with the balls as CSV.")


def _rows(page) -> Iterator[list[Cell]]:
    # A workbook may claim a million empty columns; only what is really there is read.
    page.reset_dimensions()
    for number, row in enumerate(page.iter_rows(), 1):
        if number > MAX_ROWS:
            raise UnreadableFile(f"Sheet “{page.title}” has more than {MAX_ROWS:,} rows. Save it as CSV, which can "
                                 "be longer.")
        if len(row) > MAX_COLUMNS:
            raise UnreadableFile(f"Sheet “{page.title}” has {len(row)} columns in row {number}; at most "
                                 f"{MAX_COLUMNS} are read.")
        yield [_cell(cell.value) for cell in row]


def _cell(value: object) -> Cell:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, (int, float)):
        return float(value)
    if isinstance(value, (datetime, date, time)):
        return value.isoformat(" ") if isinstance(value, datetime) else value.isoformat()
    return str(getattr(value, "text", value))  # An array formula keeps its text inside.


def _text(cell: Cell) -> str:
    return cell if isinstance(cell, str) else f"{cell:.15g}"


def _choose(sheets: dict[str, list[list[Cell]]], wanted: str | None) -> str:
    """Return the sheet to read: the one that was asked for, or the only one with headings of the trade."""
    filled = {title: rows for title, rows in sheets.items() if any(cell != "" for row in rows for cell in row)}
    if not filled:
        raise UnreadableFile("The workbook has no sheet with anything in it. Expected column names and balls.")
    if wanted is not None:
        if wanted in filled:
            return wanted
        raise UnreadableFile(f"The workbook has no filled sheet “{wanted}”; it has {', '.join(filled)}.")
    if len(filled) == 1:
        return next(iter(filled))
    known = {title: max(sum(isinstance(cell, str) and known_word(cell) for cell in row) for row in rows[:60] or [[]])
             for title, rows in filled.items()}
    best = max(known.values())
    likely = [title for title, count in known.items() if count >= 2 and count > best / 2]
    if len(likely) == 1:
        return likely[0]
    raise AmbiguousFile(f"The workbook has several sheets that may hold balls: {', '.join(likely or filled)}. "
                        "Say which one, or save that one alone.")


def _with_note(table: Table, title: str, sheets: dict[str, list[list[Cell]]]) -> Table:
    others = ", ".join(name for name in sheets if name != title)
    return replace(table, notes=(*table.notes, f"Read from the sheet “{title}”; not read: {others}."))
