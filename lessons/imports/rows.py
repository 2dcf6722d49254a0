"""Which rows below the headings are no balls: averages, headings that come again, lines of text."""

import re
from collections.abc import Sequence
from functools import lru_cache
from itertools import islice

from .dialect import is_number
from .labels import club_category
from .numbers import is_blank, tidy
from .words import FOOTER_WORDS, NAMES_TOO, ROLE_WORDS, plain_words

Row = Sequence[str]


def why_no_ball(row: Row, *, written: Sequence[str]) -> str | None:
    """Return what a row below the headings is taken for if it is no ball, or None for a ball.

    Averages and totals are known by their first words; headings come again where files were joined.
    """
    filled = list(islice(((place, cell) for place, cell in enumerate(row) if cell and not cell.isspace()), 3))
    if not filled:
        return "an empty row"
    if any(is_footer_word(cell, heading=written[place]) for place, cell in filled):
        return "a row that sums up other rows"
    first = filled[0][1]
    if first.strip() in written and [tidy(c) for c in row if c.strip()] == [tidy(c) for c in written if c.strip()]:
        return "the headings again"
    if len(filled) == 1 and len(written) > 2 and _is_words(first):
        return "a line of text"
    return None


@lru_cache(maxsize=1024)
def is_footer_word(cell: str, *, heading: str) -> bool:
    """Return True for "Average", "Std. dev. (25)", "平均" and the like.

    In a column of players a word that is a name too ("Max", "Min") is the name of somebody.
    """
    if cell[:1] in "-+0123456789":
        return False  # A number; most cells are.
    words = plain_words(re.sub(r"\(.*?\)|[\d:=]", " ", cell))
    if words not in FOOTER_WORDS:
        return False
    return words not in NAMES_TOO or plain_words(heading) not in ROLE_WORDS["player"]


def _is_words(cell: str) -> bool:
    """Return True for words that name no club: a club alone is a ball that the device gave no numbers."""
    return not is_number(cell) and not is_blank(cell) and club_category(cell, names={}) is None
