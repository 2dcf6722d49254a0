"""One cell of text into one number: the minus signs, spaces and grouping marks that files really hold."""

import math
import re
import unicodedata
from collections.abc import Sequence

DECIMAL_MARKS = (".", ",")

_MINUS = str.maketrans(dict.fromkeys("\u2212\u2010\u2011\u2012\u2013\u2014\ufe63\uff0d", "-"))
_SPACES = re.compile(r"[\s\u00a0\u2000-\u200f\u202f\u2060\ufeff]+")
_BLANKS = frozenset({"", "-", "--", "---", "----", ".", "..", "...", "*", "n/a", "na", "#n/a", "n.a.", "n.v.",
                     "null", "none", "nil"})
_PLAIN = {
    mark: re.compile(rf"[+-]?(?:\d+(?:{re.escape(mark)}\d*)?|{re.escape(mark)}\d+)(?:[eE][+-]?\d+)?")
    for mark in DECIMAL_MARKS
}
_ONLY_NUMBERS = {mark: re.compile(rf"[0-9+\-eE{re.escape(mark)}]*") for mark in DECIMAL_MARKS}
_GROUPED = {
    ".": re.compile(r"[+-]?\d{1,3}(?:(?P<mark>[,' ’])\d{3})(?:(?P=mark)\d{3})*(?:\.\d*)?"),
    ",": re.compile(r"[+-]?\d{1,3}(?:(?P<mark>[.' ’])\d{3})(?:(?P=mark)\d{3})*(?:,\d*)?"),
}


class NotANumber(ValueError):
    """A cell that is no number in this file; the message says what was expected."""


def tidy(text: str) -> str:
    """Return text with plain spaces, digits and minus signs: NFKC, no zero-width or no-break spaces."""
    if text.isascii():
        return text.strip()
    return _SPACES.sub(" ", unicodedata.normalize("NFKC", text)).strip().translate(_MINUS)


def is_blank(text: str) -> bool:
    """Return True where a cell says "no value": empty, a dash, "n/a" and the like."""
    return tidy(text).lower() in _BLANKS


def parse_number(text: str, *, decimal: str) -> float | None:
    """Return the number in one cell, or None where the cell says there is none.

    ``decimal`` is the decimal mark of the whole file. Grouping by the other mark, a space or an
    apostrophe is read only where every group has three digits, so that "145.2" in a decimal-comma file is
    refused instead of becoming 1452. Raises ``NotANumber`` for anything else, NaN and infinity included.

    >>> parse_number("\u221212,5", decimal=","), parse_number("1 234,5", decimal=",")
    (-12.5, 1234.5)
    >>> parse_number("\u2013", decimal=".") is None
    True
    """
    plain = tidy(text)
    if plain.lower() in _BLANKS:
        return None
    if plain[-1:] in "°º":
        plain = plain[:-1].rstrip()
    if plain[:1] in "+-" and plain[1:2] == " ":
        plain = plain[0] + plain[1:].lstrip()
    if not _PLAIN[decimal].fullmatch(plain):
        grouped = _GROUPED[decimal].fullmatch(plain)
        if not grouped:
            raise NotANumber(_expected(plain, decimal))
        plain = plain.replace(grouped["mark"], "")
    value = float(plain.replace(decimal, "."))
    if not math.isfinite(value):
        raise NotANumber("a finite number")
    return value


def quick_number(text: str, *, decimal: str) -> float:
    """Return the number of a plainly written cell; NaN for an empty one. Raises ValueError for the rest.

    The rest goes through ``parse_number``; this one only spares plain cells the way round.
    """
    if not text:
        return math.nan
    if decimal == ",":
        if "." in text:
            raise ValueError
        text = text.replace(",", ".")
    value = float(text)
    # float() also takes "inf", "nan" and "1_0".
    if value - value != 0 or "_" in text:
        raise ValueError
    return value


def plain_column(cells: Sequence[str], *, decimal: str) -> list[float] | None:
    """Return the numbers of a column in which every cell is a plainly written one, or None where one is not."""
    together = "".join(cells)
    if not _ONLY_NUMBERS[decimal].fullmatch(together):
        return None
    try:
        values = [float(cell) for cell in (cells if decimal == "." else [cell.replace(",", ".") for cell in cells])]
    except ValueError:
        return None
    return values if all(map(math.isfinite, values)) else None


def _expected(plain: str, decimal: str) -> str:
    """Say what a number looks like here, with the most likely reason why this one does not."""
    if re.fullmatch(r"[+-]?(?:inf|infinity|nan)", plain.lower()):
        return "a finite number or an empty cell"
    if plain.startswith("="):
        return "a value; formulas are not evaluated here, so paste it as a value"
    example, other = ("145.2", ",") if decimal == "." else ("145,2", ".")
    if other in plain:
        return f"a number with “{decimal}” as its decimal mark, like {example}, as elsewhere in this file"
    return f"a number like {example}, or an empty cell"
