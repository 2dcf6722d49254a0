"""What the reading of a file says back: refusals, problems of single cells, matches of columns."""

from collections.abc import Mapping
from dataclasses import dataclass

CLUB, PLAYER, WHEN, DATE, TIME = "club", "player", "when", "date", "time"
ROLES: dict[str, str] = {
    CLUB: "club",
    PLAYER: "player",
    WHEN: "date and time",
    DATE: "date",
    TIME: "time of day",
}
"""Columns that are not numbers, by the key under which a match names them."""


class ImportRefusal(ValueError):
    """A file that cannot go in as it is. The message is a sentence for the person who chose it."""


class UnreadableFile(ImportRefusal):
    """Nothing can be read: empty, too big, not text, not a table."""


class AmbiguousFile(ImportRefusal):
    """It can be read in more than one way; a person has to say which."""


@dataclass(frozen=True, kw_only=True)
class Problem:
    """One thing in one row that could not be taken. ``row`` is the 1-based line in the file."""

    row: int
    column: str
    text: str
    expected: str

    def as_dict(self) -> dict[str, object]:
        """Return the problem as JSON holds it."""
        return {"row": self.row, "column": self.column, "text": self.text, "expected": self.expected}

    def sentence(self) -> str:
        """Return the problem as a person reads it."""
        found = f"“{self.text}”" if self.text else "nothing"
        where = f"Row {self.row}, {self.column}" if self.column else f"Row {self.row}"
        return f"{where}: found {found}, expected {self.expected}."


@dataclass(frozen=True, kw_only=True)
class Skipped:
    """A line that is not a ball: a title, a units row, an average. ``why`` says what it was taken for."""

    row: int
    text: str
    why: str


@dataclass(frozen=True, kw_only=True)
class ColumnMatch:
    """Which column holds a field, and in which unit. ``unit`` None: the field's usual unit is meant."""

    heading: str
    unit: str | None = None


Columns = Mapping[str, ColumnMatch]
"""Field key (``metrics.fields``) or role (``ROLES``) -> its column."""


@dataclass(frozen=True, kw_only=True)
class Question:
    """Something the file leaves open. ``choices`` are the answers that fit, the likeliest first."""

    about: str
    sentence: str
    choices: tuple[str, ...] = ()
