"""Bytes to a table: the one door for files, whatever wrote them."""

import csv
from collections.abc import Iterator, Sequence

import numpy as np

from .decode import decode
from .dialect import DELIMITERS, SAMPLE_LINES, Dialect, detect_decimal, detect_delimiter
from .rows import why_no_ball
from .structure import Layout, find_layout
from .table import Rows, Table, fitted, ragged_problem
from .types import Problem, Question, Skipped, UnreadableFile

MAX_BYTES = 128 * 1024 * 1024
"""About 1.3 million rows of 15 numbers; reading takes some four times that in memory."""
MAX_COLUMNS = 400
_NOTHING = b"\0 \t\r\n"
FAST_FROM_ROWS = 2000
"""Below this the standard library is quicker than loading pandas."""


def read_table(data: bytes, *, filename: str, encoding: str | None = None, delimiter: str | None = None,
               decimal: str | None = None, sheet: str | None = None, max_bytes: int = MAX_BYTES) -> Table:
    """Return the table in a delimited text or an .xlsx workbook.

    ``encoding``, ``delimiter``, ``decimal`` and ``sheet`` are a person's answers and win over what is
    found. Raises ``UnreadableFile`` with a sentence for what holds no table; what is merely open stands
    in ``Table.questions``, and rows that do not fit in ``Table.problems``.
    """
    if not data[:4096].strip(_NOTHING) and not data.strip(_NOTHING):
        raise UnreadableFile("The file is empty. Expected a row of column names and a row for each ball.")
    if len(data) > max_bytes:
        raise UnreadableFile(f"The file has {len(data) / 1e6:,.0f} MB; at most {max_bytes / 1e6:,.0f} MB can be read "
                             "at once. Export a shorter period, or split the file.")
    if data.startswith(b"PK\x03\x04"):
        from .workbook import read_workbook

        return read_workbook(data, filename=filename, decimal=decimal, sheet=sheet)
    text, found = decode(data, encoding=encoding)
    if '"' not in text and text.count("\n") >= FAST_FROM_ROWS:
        from .fast import read_fast

        # The bytes are all that is kept of a long file; where they are the text, even without a copy.
        body = data if text.isascii() and len(text) == len(data) and b"\r" not in data else text.encode()
        del text
        return read_fast(body, filename=filename, encoding=found, delimiter=delimiter, decimal=decimal)
    lines = text.split("\n")
    delimiter = delimiter or announced(lines) or detect_delimiter(lines)
    rows, numbers, raw = _records(lines, delimiter)
    return build_table(rows, lines=numbers, raw=raw, filename=filename, encoding=found, delimiter=delimiter,
                       decimal=decimal)


def build_table(rows: Sequence[Sequence[str | float]], *, lines: Sequence[int], raw: Sequence[str], filename: str,
                encoding: str, delimiter: str, decimal: str | None) -> Table:
    """Return the table made of rows of cells; ``lines`` and ``raw`` are their file lines and texts."""
    text_of = _texts if encoding == "xlsx" else list  # only a workbook holds cells that are no text
    layout = find_layout([text_of(row) for row in rows[:SAMPLE_LINES]], lines=lines)
    check_width(layout)
    kept, skipped, problems = [], list(layout.skipped), []
    for index in range(layout.first, len(rows)):
        row = rows[index]
        why = why_no_ball(text_of(row[: layout.width]), written=layout.written)
        problem = None if why else ragged_problem(row, width=layout.width, line=lines[index], text=raw[index])
        if why and why != "an empty row":
            skipped.append(Skipped(row=lines[index], text=raw[index], why=why))
        elif problem:
            problems.append(problem)
        elif not why:
            kept.append(index)
    cells = [fitted(rows[index], layout.width) for index in kept]
    refuse_if_all_ragged(kept=len(kept), problems=problems, layout=layout)
    dialect, questions = settle_decimal(
        [[cell for cell in column if isinstance(cell, str)] for column in zip(*cells, strict=True)],
        encoding=encoding, delimiter=delimiter, decimal=decimal)
    return Table(
        filename=filename, dialect=dialect, headings=layout.headings, written=layout.written, units=layout.units,
        lines=np.array([lines[index] for index in kept], dtype=np.int64), raw=[raw[index] for index in kept],
        cells=Rows(cells), problems=tuple(problems), skipped=tuple(skipped), notes=layout.notes,
        questions=questions, broken={problem.row: problem.text for problem in problems})


def settle_decimal(columns: Sequence[Sequence[str]], *, encoding: str, delimiter: str, decimal: str | None,
                   ) -> tuple[Dialect, tuple[Question, ...]]:
    """Return how the file is written, and the question that stays open if nothing shows its decimal mark."""
    mark, is_open = (decimal, False) if decimal else detect_decimal(columns, delimiter=delimiter)
    dialect = Dialect(encoding=encoding, delimiter=delimiter, decimal=mark, decimal_open=is_open)
    if not is_open:
        return dialect, ()
    example = next((cell for column in columns for cell in column if "," in cell or "." in cell), "1,234")
    sentence = (f"Nothing in the file shows whether “{example}” has a decimal mark or marks thousands; say which "
                "is the decimal mark.")
    return dialect, (Question(about="decimal", sentence=sentence, choices=(mark, "," if mark == "." else ".")),)


def refuse_if_all_ragged(*, kept: int, problems: Sequence[Problem], layout: Layout) -> None:
    """Raise ``UnreadableFile`` where no row fits the headings, or there is no row at all."""
    if kept:
        return
    if not problems:
        raise UnreadableFile("There are column names but no balls below them. Expected a row for each ball.")
    first = problems[0]
    raise UnreadableFile(
        f"No row fits the column names: row {first.row} holds “{first.text[:60]}”, expected {first.expected}. "
        "If its numbers have decimal commas and its cells are parted by commas too, export it again with "
        "semicolons.")


def check_width(layout: Layout) -> None:
    """Raise ``UnreadableFile`` for a file with more columns than any table of balls has."""
    if layout.width > MAX_COLUMNS:
        raise UnreadableFile(f"The row of headings has {layout.width} columns; at most {MAX_COLUMNS} are read. "
                             "Expected one column for each quantity and one row for each ball.")


def announced(lines: list[str]) -> str | None:
    """Return the delimiter that a first line "sep=;" names for spreadsheets, and empty that line."""
    first = lines[0].strip().lower()
    if first.startswith("sep=") and first[4:5] in DELIMITERS:
        lines[0] = ""
        return first[4:5]
    if first == "sep=" and "\t" in lines[0]:
        lines[0] = ""
        return "\t"
    return None


def _records(lines: list[str], delimiter: str) -> tuple[list[list[str]], list[int], list[str]]:
    """Return the records with the file line on which each starts, and its text.

    A quote that never closes would swallow the rest of the file into one cell: then quotes are text.
    """
    rows, numbers, raw, taken = [], [], [], 0

    def feed() -> Iterator[str]:
        nonlocal taken
        for taken, line in enumerate(lines, 1):  # noqa: B007 (the reader below looks at it)
            yield line + "\n"

    csv.field_size_limit(MAX_BYTES)
    start = 0
    try:
        for row in csv.reader(feed(), delimiter=delimiter, skipinitialspace=delimiter != "\t"):
            rows.append(row)
            numbers.append(start + 1)
            raw.append("\n".join(lines[start:taken]))
            start = taken
    except csv.Error:
        return _without_quotes(lines, delimiter)
    if raw and raw[-1].count("\n") > 3:
        return _without_quotes(lines, delimiter)
    return rows, numbers, raw


def _without_quotes(lines: list[str], delimiter: str) -> tuple[list[list[str]], list[int], list[str]]:
    rows = [[cell.strip().strip('"') for cell in line.split(delimiter)] for line in lines]
    return rows, list(range(1, len(lines) + 1)), lines


def _texts(row: Sequence[str | float]) -> list[str]:
    return [cell if isinstance(cell, str) else f"{cell:.15g}" for cell in row]
