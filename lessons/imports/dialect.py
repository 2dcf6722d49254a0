"""How a delimited text is written: which mark parts its cells, which mark parts its decimals.

Both are decided once for the whole file, from many lines, and never cell by cell: a comma that is a
decimal mark in one row and a grouping mark in the next would change a carry of 145,2 into 1452.
"""

import csv
import re
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import islice

from .numbers import tidy

DELIMITERS = {",": "comma", ";": "semicolon", "\t": "tab", "|": "bar"}
SAMPLE_LINES = 200
DELIMITER_LINES = 80
ENOUGH_PROOF = 40
"""Proven cells of one column after which the rest of it is not looked at."""

_NUMBERISH = re.compile(r"[+-]?[\d.,' ’]*\d[.,]?°?(?: ?[a-z%/]{1,6})?", re.IGNORECASE)
_OTHER = {".": ",", ",": "."}
_HAS = {mark: re.compile(rf"\d{re.escape(mark)}\d|^[+-]?{re.escape(mark)}\d") for mark in ".,"}


@dataclass(frozen=True, kw_only=True)
class Dialect:
    """How a file was read. ``decimal_open``: nothing in the file says which mark parts the decimals."""

    encoding: str
    delimiter: str
    decimal: str
    decimal_open: bool = False

    def sentence(self) -> str:
        """Return the reading in words, for the preview."""
        parts = DELIMITERS.get(self.delimiter, "spreadsheet cell" if not self.delimiter else self.delimiter)
        mark = "decimal comma" if self.decimal == "," else "decimal point"
        return f"{self.encoding}, columns parted by {parts}, {mark}"


def split_lines(lines: Iterable[str], delimiter: str) -> list[list[str]]:
    """Return the cells of each record; a broken quote keeps its text instead of raising."""
    return list(csv.reader(lines, delimiter=delimiter, skipinitialspace=delimiter != "\t"))


def detect_delimiter(lines: Sequence[str]) -> str:
    """Return the mark that parts the cells of these lines; for one column, a mark that is not in them.

    Each candidate is judged by how many lines it cuts into the same number of cells, and by how many of
    those cells are then whole numbers or words rather than pieces with another candidate left inside.
    """
    sample = [line for line in islice(lines, 4 * DELIMITER_LINES) if line.strip()][:DELIMITER_LINES]
    present = [delimiter for delimiter in DELIMITERS if any(delimiter in line for line in sample)]
    scored = [(score, delimiter) for delimiter in present if (score := _delimiter_score(sample, delimiter))]
    if scored:
        return max(scored, key=lambda pair: pair[0])[1]
    return next((mark for mark in DELIMITERS if mark not in present), ",")


def _delimiter_score(sample: Sequence[str], delimiter: str) -> float:
    rows = [row for row in split_lines(sample, delimiter) if any(cell.strip() for cell in row)]
    widths = Counter(len(row) for row in rows)
    width, count = max(widths.items(), key=lambda item: (item[1] * (item[0] > 1), item[0]), default=(1, 0))
    if width < 2:
        return 0.0
    full = [row for row in rows if len(row) == width]
    if is_number(full[0][0]) and len(rows[0]) == 1 and not is_number(rows[0][0]):
        return 0.0  # One heading over two cells each: the mark is inside the numbers.
    cells = [cell for row in full for cell in row if cell.strip()]
    left_inside = sum(any(other in cell for other in DELIMITERS if other != delimiter and other != ",")
                      for cell in cells)
    numbers = sum(is_number(cell) for cell in cells)
    agree = count / len(rows)
    return agree * (1 + numbers / max(1, len(cells))) * (1 - left_inside / max(1, len(cells)))


def is_number(cell: str) -> bool:
    """Return True for a cell that is a number under some decimal mark, a unit behind it or not."""
    return bool(_NUMBERISH.fullmatch(tidy(cell)))


def detect_decimal(columns: Iterable[Sequence[str]], *, delimiter: str) -> tuple[str, bool]:
    """Return the decimal mark of a file, and whether that is open (True: nothing decides it).

    Evidence for a mark: it stands where grouping cannot ("145,2", "0,123", "1234,567") or after the other
    mark ("1.234,5"). "1,234" alone proves nothing; a column with both "950" and "1,234" shows grouping.
    """
    votes: Counter[str] = Counter()
    unclear: Counter[str] = Counter()
    for column in columns:
        proven, open_marks = _column_evidence(column)
        votes.update(proven)
        if open_marks and any(cell.isdigit() and len(cell) <= 3 for cell in column):
            votes[_OTHER[open_marks[0]]] += 1
        else:
            unclear.update(open_marks)
    if votes:
        return votes.most_common(1)[0][0], False
    if unclear and delimiter in ",|\t":
        # Who parts cells with commas has no decimal comma; and points alone are decimal points.
        return ".", delimiter != "," and bool(unclear[","])
    if unclear:
        return _OTHER[unclear.most_common(1)[0][0]], True
    return ".", False


def _column_evidence(column: Sequence[str]) -> tuple[list[str], list[str]]:
    """Return the marks that cells of one column prove, and those that prove nothing."""
    proven: list[str] = []
    unproven: list[str] = []
    for cell in column:
        verdict = _evidence(tidy(cell).strip("°")) if "." in cell or "," in cell else None
        if verdict:
            (proven if verdict[1] else unproven).append(verdict[0])
            if len(proven) >= ENOUGH_PROOF:
                break
    return proven, unproven


def _evidence(text: str) -> tuple[str, bool] | None:
    """Return (decimal mark, True) that a number proves, (its mark, False) if it proves none, or None."""
    if not _NUMBERISH.fullmatch(text):
        return None
    has = [mark for mark in ".," if _HAS[mark].search(text)]
    if not has:
        return None
    if len(has) == 2:
        return max(has, key=text.rfind), True
    mark = has[0]
    parts = re.sub(r"[^\d.,]", "", text).split(mark)
    grouped = all(len(part) == 3 for part in parts[1:]) and 1 <= len(parts[0]) <= 3 and parts[0] != "0"
    if len(parts) > 2:
        return (_OTHER[mark], True) if grouped else None  # Not grouped: a date or a version.
    return mark, not grouped
