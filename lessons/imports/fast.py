"""Files of many thousand rows: the same table, converted column by column, some thousand rows at a time.

Every line is checked for its number of cells first, because a table reader that meets a row with one cell
too many shifts or drops values without a word. Only files without
quotes come here: in them a delimiter is always a delimiter.
"""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from .dialect import detect_delimiter, is_number
from .lines import Lines
from .numbers import is_blank
from .reader import SAMPLE_LINES, announced, check_width, refuse_if_all_ragged, settle_decimal
from .rows import is_footer_word, why_no_ball
from .structure import Layout, find_layout
from .table import Floats, Frame, Table, ragged_problem
from .types import Problem, Skipped

TAIL_LINES = 60
ROWS_AT_ONCE = 10_000
_SAMPLE_STEP = 997


def read_fast(body: bytes, *, filename: str, encoding: str, delimiter: str | None, decimal: str | None) -> Table:
    """Return the table in many lines of unquoted text in UTF-8. Errors as in ``read_table``."""
    lines = Lines.of(body)
    top = list(lines[: 2 * SAMPLE_LINES])
    delimiter = delimiter or announced(top) or detect_delimiter(top)
    head = [_cells(line, delimiter) for line in top[:SAMPLE_LINES]]
    layout = find_layout(head, lines=range(1, len(head) + 1))
    check_width(layout)
    good, cut, problems, skipped = _sort_lines(lines, layout=layout, delimiter=delimiter)
    refuse_if_all_ragged(kept=len(good), problems=problems, layout=layout)
    raw = lines.with_changes(cut).picked(good)
    sample = _sample(raw, layout=layout, delimiter=delimiter)
    dialect, questions = settle_decimal(sample, encoding=encoding, delimiter=delimiter, decimal=decimal)
    columns = _convert(raw, delimiter=delimiter, decimal=dialect.decimal,
                       is_text=[_is_text(column) for column in sample])
    table = Table(
        filename=filename, dialect=dialect, headings=layout.headings, written=layout.written, units=layout.units,
        lines=good + 1, raw=raw, cells=Frame(columns, raw, delimiter), problems=tuple(problems),
        skipped=(*layout.skipped, *skipped), notes=layout.notes, questions=questions,
        broken={problem.row: problem.text for problem in problems})
    return _without_sums(table, raw, columns)


def _sort_lines(lines: Lines, *, layout: Layout, delimiter: str,
                ) -> tuple[NDArray[np.int64], dict[int, str], list[Problem], list[Skipped]]:
    """Return the indexes of lines with the right number of cells, and the texts of those that had empty cells too
    many; every other line is looked at singly."""
    fits = lines.counts_of(delimiter) + 1 == layout.width
    fits[: layout.first] = False
    odd = [int(i) for i in np.flatnonzero(~fits) if i >= layout.first]
    odd += [i for i in range(max(layout.first, len(lines) - TAIL_LINES), len(lines)) if fits[i]]
    odd += [i for i in range(layout.first, min(layout.first + TAIL_LINES, len(lines) - TAIL_LINES)) if fits[i]]
    cut, problems, skipped = {}, [], []
    for index in odd:
        text = lines[index]
        cells = _cells(text, delimiter)
        why = why_no_ball(cells[: layout.width], written=layout.written)
        problem = None if why else ragged_problem(cells, width=layout.width, line=index + 1, text=text)
        fits[index] = not why and not problem
        if problem:
            problems.append(problem)
        elif why and why != "an empty row":
            skipped.append(Skipped(row=index + 1, text=text, why=why))
        elif fits[index] and len(cells) > layout.width:
            cut[index] = delimiter.join(cells[: layout.width])
    return np.flatnonzero(fits), cut, problems, skipped


def _sample(raw: Lines, *, layout: Layout, delimiter: str) -> list[list[str]]:
    """Return some cells of every column: from the beginning, and from all over the file."""
    chosen = sorted({*range(min(SAMPLE_LINES, len(raw))), *range(0, len(raw), _SAMPLE_STEP)})
    rows = [_cells(raw[index], delimiter)[: layout.width] for index in chosen]
    return [list(column) for column in zip(*rows, strict=True)]


def _is_text(column: Sequence[str]) -> bool:
    filled = [cell for cell in column if not is_blank(cell)]
    numbers = sum(is_number(cell) and not cell[-1:].isalpha() for cell in filled)
    return not filled or numbers < len(filled) / 2


def _convert(raw: Lines, *, delimiter: str, decimal: str, is_text: Sequence[bool]) -> list[Floats | list[str]]:
    """Return each column as an array of numbers where all its cells are plain numbers, else as text."""
    import pandas  # A third of a second to load: only where it pays.

    columns: list[Floats | list[str]] = [[] if text else np.empty(len(raw)) for text in is_text]
    mixed: set[int] = set()
    done = 0
    with pandas.read_csv(
        raw.as_file(), sep=delimiter, header=None, names=range(len(is_text)), index_col=False, encoding="utf-8",
        decimal=decimal, quoting=3, keep_default_na=False, na_values=[""], skip_blank_lines=False,
        chunksize=ROWS_AT_ONCE, dtype={place: "category" for place, text in enumerate(is_text) if text},
    ) as chunks:
        for chunk in chunks:
            for place, column in enumerate(columns):
                cells = chunk[place]
                if isinstance(column, list):
                    # No code, −1, is an empty cell: the last of the names.
                    names = [*(str(name).strip() for name in cells.cat.categories), ""]
                    column += [names[code] for code in cells.cat.codes.tolist()]
                elif cells.dtype.kind in "fiu":
                    column[done : done + len(chunk)] = cells.to_numpy()
                else:
                    mixed.add(place)
            done += len(chunk)
    for place in mixed:
        columns[place] = [_cells(line, delimiter)[place] for line in raw]
    return columns


def _without_sums(table: Table, raw: Lines, columns: Sequence[Floats | list[str]]) -> Table:
    """Drop rows that sum up others in the middle of the file, found by the words in its text columns."""
    sums: set[int] = set()
    for heading, column in zip(table.written, columns[:6], strict=False):
        if isinstance(column, list):
            words = {word for word in set(column) if word and is_footer_word(word, heading=heading)}
            sums |= {index for index, cell in enumerate(column) if cell in words} if words else set()
    if not sums:
        return table
    keep = np.array([index not in sums for index in range(len(table.lines))])
    skipped = [Skipped(row=int(table.lines[index]), text=raw[index], why="a row that sums up other rows")
               for index in sorted(sums)]
    raw = raw.picked(keep)
    cells = [column[keep] if isinstance(column, np.ndarray) else
             [cell for cell, kept in zip(column, keep, strict=True) if kept] for column in columns]
    return replace(table, lines=table.lines[keep], raw=raw, cells=Frame(cells, raw, table.dialect.delimiter),
                   skipped=(*table.skipped, *skipped))


def _cells(line: str, delimiter: str) -> list[str]:
    return [cell.strip() for cell in line.split(delimiter)]
