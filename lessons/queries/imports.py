"""What the preview of a file shows, column by column, raw text beside the value that would go in."""

from dataclasses import dataclass

from lessons.imports.export import plain_text
from lessons.imports.labels import club_category
from lessons.imports.numbers import is_blank
from lessons.imports.preview import PreviewRow, preview_rows
from lessons.imports.suggest import Proposal
from lessons.imports.table import Table
from lessons.imports.types import CLUB, PLAYER

SHOWN_ROWS = 3
MOST_PROBLEMS = 50
MOST_CLUBS = 30


@dataclass(frozen=True, kw_only=True)
class ColumnView:
    """One column of the file: its samples, what it was taken for and why, and the values that would go in."""

    heading: str
    samples: tuple[str, ...]
    field: str
    unit: str
    why: str
    values: tuple[float | None, ...]
    expected: tuple[str, ...]


def column_views(*, table: Table, proposal: Proposal, hand: str, file_sign: str) -> list[ColumnView]:
    """Return every column of the file in its own order."""
    rows = preview_rows(table, proposal.columns, hand=hand, file_sign=file_sign, count=SHOWN_ROWS)
    head = table.first(SHOWN_ROWS)
    by_heading = {match.heading: (key, match) for key, match in proposal.matches.items()}
    views = []
    for heading in table.headings:
        key, match = by_heading.get(heading, ("", None))
        cells = _cells(rows, key)
        views.append(ColumnView(
            heading=heading, samples=tuple(str(text) for text in head.texts(heading)), field=key,
            unit=(match.unit or "") if match else "", why=match.why if match else "",
            values=tuple(cell.value for cell in cells), expected=tuple(cell.expected for cell in cells),
        ))
    return views


def players_in(table: Table, proposal: Proposal) -> list[str]:
    """Return the names in the player's column, each once."""
    match = proposal.matches.get(PLAYER)
    return sorted({text.strip() for text in table.texts(match.heading) if text.strip()}) if match else []


def unknown_clubs(table: Table, proposal: Proposal, known: dict[str, str]) -> list[str]:
    """Return the names in the column of clubs that are no club known here, each once; asked about once a source."""
    match = proposal.matches.get(CLUB)
    names = {plain_text(text).strip() for text in set(table.texts(match.heading))} if match else set()
    unknown = [name for name in names if not is_blank(name) and club_category(name, names=known) is None]
    return sorted(unknown)[:MOST_CLUBS]


def _cells(rows: list[PreviewRow], key: str) -> list:
    return [cell for row in rows for cell in row.cells if cell.field == key]
