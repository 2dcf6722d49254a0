"""Files of many thousand rows: the same table, converted column by column.

Every line is checked for its number of cells first, because a table reader that meets a row with one cell
too many shifts or drops values without a word. Only files without
quotes come here: in them a delimiter is always a delimiter.
"""

import io
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from .dialect import is_number
from .numbers import is_blank
from .reader import SAMPLE_LINES, check_width, refuse_if_all_ragged, settle_decimal
from .rows import is_footer_word, why_no_ball
from .structure import Layout, find_layout
from .table import Floats, Frame, Table, ragged_problem
from .types import Problem, Skipped

TAIL_LINES = 60
_SAMPLE_STEP = 997


def read_fast(lines: list[str], *, filename: str, encoding: str, delimiter: str, decimal: str | None) -> Table:
    """Return the table in many lines of unquoted text. Errors as in ``read_table``."""
    head = [_cells(line, delimiter) for line in lines[:SAMPLE_LINES]]
    layout = find_layout(head, lines=range(1, len(head) + 1))
    check_width(layout)
    good, problems, skipped = _sort_lines(lines, layout=layout, delimiter=delimiter)
    refuse_if_all_ragged(kept=len(good), problems=problems, layout=layout)
    sample = _sample(lines, good, layout=layout, delimiter=delimiter)
    dialect, questions = settle_decimal(sample, encoding=encoding, delimiter=delimiter, decimal=decimal)
    raw = lines[good[0] : good[-1] + 1] if _unbroken(good) else [lines[i] for i in good.tolist()]
    columns = _convert(raw, delimiter=delimiter, decimal=dialect.decimal,
                       is_text=[_is_text(column) for column in sample])
    table = Table(
        filename=filename, dialect=dialect, headings=layout.headings, written=layout.written, units=layout.units,
        lines=good + 1, raw=raw, cells=Frame(columns, raw, delimiter), problems=tuple(problems),
        skipped=(*layout.skipped, *skipped), notes=layout.notes, questions=questions,
        broken={problem.row: problem.text for problem in problems})
    return _without_sums(table, columns)


def _sort_lines(lines: list[str], *, layout: Layout, delimiter: str,
                ) -> tuple[NDArray[np.int64], list[Problem], list[Skipped]]:
    """Return the indexes of lines with the right number of cells; every other line is looked at singly."""
    counts = _cell_counts(lines, delimiter)
    fits = counts == layout.width
    fits[: layout.first] = False
    odd = [int(i) for i in np.flatnonzero(~fits) if i >= layout.first]
    odd += [i for i in range(max(layout.first, len(lines) - TAIL_LINES), len(lines)) if fits[i]]
    odd += [i for i in range(layout.first, min(layout.first + TAIL_LINES, len(lines) - TAIL_LINES)) if fits[i]]
    problems, skipped = [], []
    for index in odd:
        cells = _cells(lines[index], delimiter)
        why = why_no_ball(cells[: layout.width], written=layout.written)
        problem = None if why else ragged_problem(cells, width=layout.width, line=index + 1, text=lines[index])
        fits[index] = not why and not problem
        if problem:
            problems.append(problem)
        elif why and why != "an empty row":
            skipped.append(Skipped(row=index + 1, text=lines[index], why=why))
        elif fits[index] and len(cells) > layout.width:
            lines[index] = delimiter.join(cells[: layout.width])
    return np.flatnonzero(fits), problems, skipped


def _cell_counts(lines: Sequence[str], delimiter: str) -> NDArray[np.int64]:
    """Return the number of cells of each line."""
    return np.array([line.count(delimiter) for line in lines], dtype=np.int64) + 1


def _sample(lines: Sequence[str], good: NDArray[np.int64], *, layout: Layout, delimiter: str) -> list[list[str]]:
    """Return some cells of every column: from the beginning, and from all over the file."""
    chosen = np.unique(np.concatenate([good[:SAMPLE_LINES], good[::_SAMPLE_STEP]]))
    rows = [_cells(lines[index], delimiter)[: layout.width] for index in chosen.tolist()]
    return [list(column) for column in zip(*rows, strict=True)]


def _is_text(column: Sequence[str]) -> bool:
    filled = [cell for cell in column if not is_blank(cell)]
    numbers = sum(is_number(cell) and not cell[-1:].isalpha() for cell in filled)
    return not filled or numbers < len(filled) / 2


def _convert(raw: list[str], *, delimiter: str, decimal: str, is_text: Sequence[bool]) -> list[Floats | list[str]]:
    """Return each column as an array of numbers where all its cells are plain numbers, else as text."""
    import pandas  # A third of a second to load: only where it pays.

    frame = pandas.read_csv(
        io.BytesIO("\n".join(raw).encode()), sep=delimiter, header=None, names=range(len(is_text)), index_col=False,
        decimal=decimal, quoting=3, keep_default_na=False, na_values=[""], low_memory=False,
        skip_blank_lines=False, dtype={place: str for place, text in enumerate(is_text) if text})
    columns: list[Floats | list[str]] = []
    for place in range(len(is_text)):
        series = frame[place]
        if series.dtype.kind in "fiu":
            columns.append(series.to_numpy(dtype=np.float64))
        else:
            columns.append([str(cell).strip() for cell in series.astype(object).fillna("")])
    return columns


def _without_sums(table: Table, columns: Sequence[Floats | list[str]]) -> Table:
    """Drop rows that sum up others in the middle of the file, found by the words in its text columns."""
    sums: set[int] = set()
    for heading, column in zip(table.written, columns[:6], strict=False):
        if isinstance(column, list):
            words = {word for word in set(column) if word and is_footer_word(word, heading=heading)}
            sums |= {index for index, cell in enumerate(column) if cell in words} if words else set()
    if not sums:
        return table
    keep = np.array([index not in sums for index in range(len(table.lines))])
    skipped = [Skipped(row=int(table.lines[index]), text=table.raw[index], why="a row that sums up other rows")
               for index in sorted(sums)]
    raw = [text for text, kept in zip(table.raw, keep, strict=True) if kept]
    cells = [column[keep] if isinstance(column, np.ndarray) else
             [cell for cell, kept in zip(column, keep, strict=True) if kept] for column in columns]
    return replace(table, lines=table.lines[keep], raw=raw, cells=Frame(cells, raw, table.dialect.delimiter),
                   skipped=(*table.skipped, *skipped))


def _cells(line: str, delimiter: str) -> list[str]:
    return [cell.strip() for cell in line.split(delimiter)]


def _unbroken(indexes: NDArray[np.int64]) -> bool:
    return bool(indexes.size) and int(indexes[-1] - indexes[0]) + 1 == indexes.size
