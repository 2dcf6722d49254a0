"""Where the table is in a file: title lines, the row of headings, a row of units."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from .columns import known_word
from .dialect import is_number
from .numbers import is_blank, tidy
from .sides import side_of, split_cell
from .types import Skipped, UnreadableFile
from .unit_words import is_any_unit, looks_like_units_cell

Row = Sequence[str]
LOOK_FOR_HEADINGS = 60
LOOK_ACROSS = 500
"""Cells of a row that are looked at to tell headings from balls; no table that is read has more."""


@dataclass(frozen=True, kw_only=True)
class Layout:
    """The frame of a table. ``first`` is the index of the first row that may be a ball."""

    headings: tuple[str, ...]
    written: tuple[str, ...]
    units: tuple[str, ...]
    first: int
    skipped: tuple[Skipped, ...]
    notes: tuple[str, ...] = ()

    @property
    def width(self) -> int:
        """The number of columns."""
        return len(self.headings)


def find_layout(rows: Sequence[Row], *, lines: Sequence[int]) -> Layout:
    """Return where headings, units and balls are. ``lines`` are the 1-based file lines of ``rows``.

    Raises ``UnreadableFile`` where there is no row of headings with a row below it.
    """
    filled = [index for index, row in enumerate(rows[:LOOK_FOR_HEADINGS]) if any(cell.strip() for cell in row)]
    if not filled:
        raise UnreadableFile("The file holds no cells with anything in them.")
    head = _heading_row([row[:LOOK_ACROSS] for row in rows], filled)
    if head is None:
        return _without_headings(rows, filled[0])
    above = [index for index in filled if index < head]
    written, notes = _joined_headings(rows, head, above)
    skipped = [Skipped(row=lines[index], text=_joined(rows[index]), why="a title line above the table")
               for index in above if not (notes and index == head - 1)]
    below = next((index for index in filled if index > head), None)
    units = ("",) * len(written)
    if below is not None and _is_units(rows[below]):
        skipped.append(Skipped(row=lines[below], text=_joined(rows[below]), why="the row of units"))
        units, head = _padded(rows[below], len(written)), below
    return Layout(headings=unique(written), written=written, units=units, first=head + 1, skipped=tuple(skipped),
                  notes=notes)


def _heading_row(rows: Sequence[Row], filled: Sequence[int]) -> int | None:
    """Return the row of headings: the one with most words of the trade, else the best above the first ball.

    None where the file begins with a ball. Raises ``UnreadableFile`` where what is above is no heading.
    """
    known = {index: sum(map(_is_known, rows[index])) for index in filled}
    best = max(filled, key=lambda index: (known[index], -index))
    if known[best] >= 2:
        return best
    first = next((index for index in filled if _is_data(rows[index])), len(rows))
    above = [index for index in filled if index < first and not _is_units(rows[index])]
    if not above:
        return None
    head = max(above, key=lambda index: (_heading_score(rows[index]), index))
    if not _heading_score(rows[head]):
        raise UnreadableFile("No row of column names was found above the numbers. Expected one, such as "
                             "“Club, Club speed (mph), Carry (yd)”, and a row for each ball below it.")
    return head


def _is_known(cell: str) -> bool:
    return bool(cell.strip()) and not is_number(cell) and known_word(cell)


def unique(written: Sequence[str]) -> tuple[str, ...]:
    """Return headings that differ: a name that stands twice, or nowhere, gets its column's number."""
    counts = Counter(tidy(name).lower() for name in written)
    return tuple(
        f"column {place}" if not name.strip() else
        f"{name.strip()} (column {place})" if counts[tidy(name).lower()] > 1 else name.strip()
        for place, name in enumerate(written, 1)
    )


def _is_data(row: Row) -> bool:
    """Return True for a row with at least one number, and no more words than a ball has."""
    filled = [cell for cell in row if not is_blank(cell)]
    numbers = sum(_holds_number(cell) for cell in filled)
    return numbers >= max(1, len(filled) * 0.3) and not (len(filled) == 1 < len(row))


def _holds_number(cell: str) -> bool:
    """Return True for a number, also with a direction or a unit beside it ("12.3 L", "4 yd")."""
    if is_number(cell):
        return True
    parts = split_cell(cell)
    words = [word for word in (parts[0], parts[2]) if word] if parts and is_number(parts[1]) else []
    return bool(words) and all(side_of(word, field="side_m") or is_any_unit(word) for word in words)


def _is_units(row: Row) -> bool:
    filled = [cell for cell in row[:LOOK_ACROSS] if cell.strip() and tidy(cell) != "-"]
    return bool(filled) and sum(looks_like_units_cell(cell) for cell in filled) > len(filled) * 0.7


def _heading_score(row: Row) -> float:
    """Return how much a row looks like headings: known words count most, then the number of names."""
    names = [cell for cell in row if cell.strip() and not is_number(cell)]
    if not names:
        return 0.0
    if len(names) == 1 and not known_word(names[0]):
        return 0.5 if len(row) == 1 else 0.0  # A title, or the only column of a short list.
    return 3 * sum(known_word(name) for name in names) + len(names)


def _joined_headings(rows: Sequence[Row], head: int, above: Sequence[int]) -> tuple[tuple[str, ...], tuple]:
    """Return the headings, with the group row above them in front where they repeat ("Ball" over "Speed")."""
    written = list(rows[head])
    while written and not written[-1].strip():
        written.pop()
    alone = tuple(name.strip() for name in written)
    if not (_repeats(alone) and above and above[-1] == head - 1):
        return alone, ()
    groups = _padded(rows[head - 1], len(written))
    current, joined = "", []
    for group, name in zip(groups, written, strict=True):
        current = group.strip() or current
        joined.append(f"{current} {name.strip()}".strip())
    if _repeats(joined):
        return alone, ()
    return tuple(joined), ("The headings stand in two rows; they were read together, as “"
                           f"{joined[-1]}”.",)


def _repeats(names: Sequence[str]) -> bool:
    return len({name.lower() for name in names}) < len(names)


def _without_headings(rows: Sequence[Row], first: int) -> Layout:
    written = tuple("" for _ in rows[first])
    note = ("The first row already holds numbers: there are no column names, so nothing could be matched by "
            "itself.")
    return Layout(headings=unique(written), written=written, units=written, first=first, skipped=(), notes=(note,))


def _padded(row: Row, width: int) -> tuple[str, ...]:
    return tuple([*row, *[""] * width][:width])


def _joined(row: Row) -> str:
    return " ".join(cell.strip() for cell in row if cell.strip())
