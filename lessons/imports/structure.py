"""Where the table is in a file: title lines, the row of headings, a row of units, rows that are no balls."""

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from .columns import known_word
from .dialect import is_number
from .labels import club_category
from .numbers import is_blank, tidy
from .sides import side_of, split_cell
from .types import Skipped, UnreadableFile
from .unit_words import is_any_unit, looks_like_units_cell
from .words import FOOTER_WORDS, plain_words

Row = Sequence[str]
LOOK_FOR_HEADINGS = 60


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
    first = next((index for index in filled if _is_data(rows[index])), None)
    above = [index for index in filled if first is None or index < first]
    if not above:
        return _without_headings(rows, filled[0])
    units_at = above[-1] if len(above) > 1 and _is_units(rows[above[-1]]) else None
    candidates = [index for index in above if index != units_at]
    head = max(candidates, key=lambda index: (_heading_score(rows[index]), index))
    if not _heading_score(rows[head]):
        raise UnreadableFile("No row of column names was found above the numbers. Expected one, such as "
                             "“Club, Club speed (mph), Carry (yd)”, and a row for each ball below it.")
    if units_at is not None and units_at < head:
        units_at = None
    written, notes = _joined_headings(rows, head, candidates)
    start = (units_at if units_at is not None else head) + 1
    skipped = [Skipped(row=lines[i], text=_joined(rows[i]), why="a title line above the table")
               for i in above if i < head and not (notes and i == head - 1)]
    units = ("",) * len(written)
    if units_at is not None:
        skipped.append(Skipped(row=lines[units_at], text=_joined(rows[units_at]), why="the row of units"))
        units = _padded(rows[units_at], len(written))
    return Layout(headings=unique(written), written=written, units=units, first=start,
                  skipped=tuple(skipped), notes=notes)


def why_no_ball(row: Row, *, written: Sequence[str]) -> str | None:
    """Return what a row below the headings is taken for if it is no ball, or None for a ball.

    Averages and totals are known by their first words; headings come again where files were joined.
    """
    filled = [cell for cell in row if cell and not cell.isspace()]
    if not filled:
        return "an empty row"
    if any(is_footer_word(cell) for cell in filled[:3]):
        return "a row that sums up other rows"
    if filled[0].strip() in written and [tidy(cell) for cell in filled] == [tidy(c) for c in written if c.strip()]:
        return "the headings again"
    return "a line of text" if len(written) > 2 and _is_lone_text(filled) else None


def _is_lone_text(filled: Row) -> bool:
    """Return True for one cell of words; a club alone is a ball that the device gave no numbers."""
    if len(filled) > 1 or is_number(filled[0]) or is_blank(filled[0]):
        return False
    return club_category(filled[0], names={}) is None


def is_footer_word(cell: str) -> bool:
    """Return True for "Average", "Std. dev. (25)", "平均" and the like."""
    if cell[:1] in "-+0123456789":
        return False  # A number; most cells are.
    return plain_words(re.sub(r"\(.*?\)|[\d:=]", " ", cell)) in FOOTER_WORDS


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
    filled = [cell for cell in row if cell.strip() and tidy(cell) != "-"]
    return bool(filled) and sum(looks_like_units_cell(cell) for cell in filled) > len(filled) * 0.7


def _heading_score(row: Row) -> float:
    """Return how much a row looks like headings: known words count most, then the number of names."""
    names = [cell for cell in row if cell.strip() and not is_number(cell)]
    if not names:
        return 0.0
    if len(names) == 1 and not known_word(names[0]):
        return 0.5 if len(row) == 1 else 0.0  # A title, or the only column of a short list.
    return 3 * sum(known_word(name) for name in names) + len(names)


def _joined_headings(rows: Sequence[Row], head: int, candidates: Sequence[int]) -> tuple[tuple[str, ...], tuple]:
    """Return the headings, with the group row above them in front where they repeat ("Ball" over "Speed")."""
    written = list(rows[head])
    while written and not written[-1].strip():
        written.pop()
    repeated = len({name.strip().lower() for name in written}) < len(written)
    above = [index for index in candidates if index < head]
    if not (repeated and above and above[-1] == head - 1):
        return tuple(name.strip() for name in written), ()
    groups = _padded(rows[head - 1], len(written))
    if sum(bool(cell.strip()) for cell in groups) < 2:
        return tuple(name.strip() for name in written), ()
    current, joined = "", []
    for group, name in zip(groups, written, strict=True):
        current = group.strip() or current
        joined.append(f"{current} {name.strip()}".strip())
    return tuple(joined), ("The headings stand in two rows; they were read together, as “"
                           f"{joined[-1]}”.",)


def _without_headings(rows: Sequence[Row], first: int) -> Layout:
    written = tuple("" for _ in rows[first])
    note = ("The first row already holds numbers: there are no column names, so nothing could be matched by "
            "itself.")
    return Layout(headings=unique(written), written=written, units=written, first=first, skipped=(), notes=(note,))


def _padded(row: Row, width: int) -> tuple[str, ...]:
    return tuple([*row, *[""] * width][:width])


def _joined(row: Row) -> str:
    return " ".join(cell.strip() for cell in row if cell.strip())
