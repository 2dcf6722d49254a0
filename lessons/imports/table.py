"""A table as it stands in a file: headings, rows, and the cells of each column. Nothing is interpreted yet.

Two stores hold the cells. ``Rows`` keeps every cell as text, for the files that people really send;
``Frame`` keeps numbers as arrays, for files of many thousand rows, and cuts text out of the raw line
only when somebody asks for it.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from .dialect import Dialect, split_lines
from .numbers import plain_column, quick_number
from .types import Problem, Question, Skipped

Floats = NDArray[np.float64]


class Store(Protocol):
    """The cells of a table by row and column index."""

    def texts(self, column: int) -> Sequence[str]: ...

    def numbers(self, column: int, *, decimal: str) -> tuple[Floats, list[int]]:
        """Return the plainly written numbers (NaN elsewhere) and the rows that need a closer look."""
        ...

    def first(self, count: int) -> "Store": ...


@dataclass(frozen=True)
class Rows:
    """Cells as text, row by row. Cells that a spreadsheet holds as numbers are floats."""

    rows: Sequence[Sequence[str | float]]
    read: dict[tuple[int, str], tuple[Floats, list[int]]] = field(default_factory=dict, compare=False, repr=False)
    """The columns whose numbers were asked for before; to be read, never changed."""

    def texts(self, column: int) -> Sequence[str]:
        """Return the cells of a column as text."""
        return [cell if isinstance(cell, str) else f"{cell:.15g}" for cell in self._cells(column)]

    def numbers(self, column: int, *, decimal: str) -> tuple[Floats, list[int]]:
        """See ``Store.numbers``."""
        if (column, decimal) not in self.read:
            self.read[column, decimal] = self._read(column, decimal)
        return self.read[column, decimal]

    def _read(self, column: int, decimal: str) -> tuple[Floats, list[int]]:
        cells = self._cells(column)
        if all(isinstance(cell, str) for cell in cells) and (plain := plain_column(cells, decimal=decimal)):
            return np.array(plain), []
        values = np.full(len(cells), np.nan)
        closer = []
        for index, cell in enumerate(cells):
            try:
                values[index] = cell if isinstance(cell, float) else quick_number(cell, decimal=decimal)
            except ValueError:
                closer.append(index)
        return values, closer

    def first(self, count: int) -> "Rows":
        """Return the store of the first rows."""
        return Rows(self.rows[:count])

    def _cells(self, column: int) -> list[str | float]:
        return [row[column] for row in self.rows]


@dataclass(frozen=True)
class Frame:
    """Columns that were converted at once: arrays of numbers, or lists of text."""

    columns: Sequence[Floats | list[str]]
    raw: Sequence[str]
    delimiter: str

    def texts(self, column: int) -> Sequence[str]:
        """Return the cells of a column as text, cut out of the raw lines where they were converted."""
        cells = self.columns[column]
        if isinstance(cells, list):
            return cells
        return [line.split(self.delimiter)[column].strip() for line in self.raw]

    def numbers(self, column: int, *, decimal: str) -> tuple[Floats, list[int]]:
        """See ``Store.numbers``."""
        cells = self.columns[column]
        if isinstance(cells, list):
            return Rows([(cell,) for cell in cells]).numbers(0, decimal=decimal)
        # Infinity, and numbers too big to be held, come back as infinite: the closer look says so.
        endless = np.flatnonzero(np.isinf(cells))
        return (np.where(np.isinf(cells), np.nan, cells), endless.tolist()) if endless.size else (cells, [])

    def first(self, count: int) -> "Frame":
        """Return the store of the first rows."""
        return Frame([cells[:count] for cells in self.columns], self.raw[:count], self.delimiter)


@dataclass(frozen=True, kw_only=True, eq=False)
class Table:
    """One table of a file. Two are the same only where they are one object, so that work can be kept beside it.

    ``headings`` are unique names of the columns, ``written`` the same as they stand in the file; ``units``
    comes from a row of units ("" where there is none). ``lines`` and ``raw`` are, for each row that may
    be a ball, its 1-based line in the file and its text. ``problems`` are rows that do not fit the
    headings; they are no part of ``lines``. ``questions`` are what only a person can say about the file.
    """

    filename: str
    dialect: Dialect
    headings: tuple[str, ...]
    written: tuple[str, ...]
    units: tuple[str, ...]
    lines: NDArray[np.int64]
    raw: Sequence[str]
    cells: Store
    problems: tuple[Problem, ...] = ()
    skipped: tuple[Skipped, ...] = ()
    notes: tuple[str, ...] = ()
    questions: tuple[Question, ...] = ()
    broken: Mapping[int, str] = field(default_factory=dict)
    """File line -> text of the rows behind ``problems``."""

    @property
    def rows(self) -> int:
        """How many rows the file has that are balls, or should be."""
        return len(self.lines) + len(self.broken)

    def place(self, heading: str) -> int:
        """Return the index of a column. Raises ``KeyError`` for an unknown heading."""
        try:
            return self.headings.index(heading)
        except ValueError:
            raise KeyError(heading) from None

    def texts(self, heading: str) -> Sequence[str]:
        """Return the cells of a column as text."""
        return self.cells.texts(self.place(heading))

    def numbers(self, heading: str) -> tuple[Floats, list[int]]:
        """Return the plainly written numbers of a column, and the rows that need a closer look."""
        return self.cells.numbers(self.place(heading), decimal=self.dialect.decimal)

    def first(self, count: int) -> "Table":
        """Return the table cut to its first rows, for a preview."""
        return replace(self, lines=self.lines[:count], raw=self.raw[:count], cells=self.cells.first(count),
                       problems=(), broken={})


def with_corrections(table: Table, corrections: Mapping[int, str]) -> Table:
    """Return the table with some lines replaced by what a person typed for them.

    ``corrections`` maps a 1-based file line to its new text, in the dialect of the file. Broken rows that
    now fit the headings become rows; what still does not fit stays a problem.
    """
    width = len(table.headings)
    texts = dict(zip(table.lines.tolist(), table.raw, strict=True))
    texts.update({line: text for line, text in corrections.items() if line in texts or line in table.broken})
    columns = [table.cells.texts(place) for place in range(width)]
    kept = {line: [column[index] for column in columns] for index, line in enumerate(table.lines.tolist())}
    problems = [problem for problem in table.problems if problem.row not in corrections]
    broken = {line: text for line, text in table.broken.items() if line not in corrections}
    for line in sorted(set(corrections) & set(texts)):
        cells = split_lines([texts[line]], table.dialect.delimiter)[0]
        kept.pop(line, None)
        problem = ragged_problem(cells, width=width, line=line, text=texts[line])
        if problem:
            problems.append(problem)
            broken[line] = texts[line]
        else:
            kept[line] = fitted(cells, width)
    order = sorted(kept)
    return replace(table, lines=np.array(order, dtype=np.int64), raw=[texts[line] for line in order],
                   cells=Rows([kept[line] for line in order]), problems=tuple(problems), broken=broken)


def ragged_problem(cells: Sequence[str], *, width: int, line: int, text: str) -> Problem | None:
    """Return the problem of a row with too few or too many cells, or None. Empty cells too many are nothing."""
    found = len(cells)
    if found >= width and not any(str(cell).strip() for cell in cells[width:]):
        return None
    return Problem(row=line, column="", text=text,
                   expected=f"{width} cells as in the row of headings; this row has {found}")


def fitted(cells: Sequence[str], width: int) -> list[str]:
    """Return a row cut to the width of the headings, its cells without spaces around them."""
    return [cell.strip() if isinstance(cell, str) else cell for cell in cells[:width]]
