"""The columns of names: which club each ball was hit with, and by whom."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from metrics.clubs import CATEGORIES, category_of

from .export import plain_text
from .numbers import is_blank, tidy
from .table import Table
from .types import AmbiguousFile, ColumnMatch, Problem
from .words import plain_words

_CLUB_WORDS = {
    "hybrid_long_iron": ("hybride", "hibrido", "ibrido", "rescue", "ハイブリッド", "ユーティリティ", "하이브리드"),
    "driver": ("ドライバー", "drajver", "드라이버", "1号木"),
    "putter": ("パター", "퍼터"),
    "fairway": ("fairwayholz", "bois de parcours", "フェアウェイウッド", "스푼"),
    "wedge_full": ("ウェッジ", "wedge", "웨지"),
}
_IRON_WORDS = ("eisen", "fer", "hierro", "ferro", "jarn", "ijzer", "iron", "アイアン", "번 아이언", "번아이언", "i")
_WOOD_WORDS = ("holz", "bois", "madera", "legno", "tra", "hout", "madeira", "wood", "ウッド", "번 우드", "w")


@dataclass(frozen=True, kw_only=True)
class Labels:
    """One club name and category for each row; ``bad`` rows have an empty category."""

    names: Sequence[str]
    categories: Sequence[str]
    bad: dict[int, Problem]


def club_category(name: str, *, names: Mapping[str, str]) -> str | None:
    """Return the category of a club as a file names it; ``names`` are a person's own answers and come first.

    >>> club_category("Eisen 7", names={}), club_category("Old faithful", names={"old faithful": "driver"})
    ('mid_iron', 'driver')
    """
    plain = tidy(name).casefold()
    own = {tidy(key).casefold(): value for key, value in names.items()}
    return own.get(plain) or category_of(tidy(name)) or _foreign_category(plain_words(name))


def read_clubs(table: Table, match: ColumnMatch | None, *, default: str | None,
               names: Mapping[str, str]) -> Labels:
    """Return the clubs of a table. ``default`` is used without a column, and where a cell is blank.

    Raises ``AmbiguousFile`` without a column and without a default, or for a default that is no club.
    """
    fallback = club_category(default, names=names) if default else None
    if default and not fallback:
        raise AmbiguousFile(f"“{default}” is no club known here; expected {', '.join(CATEGORIES)}, or a name "
                            "such as 7i or PW.")
    rows = len(table.lines)
    if match is None:
        if not fallback:
            raise AmbiguousFile("The file has no column of clubs; say which club the balls were hit with.")
        return Labels(names=[default] * rows, categories=[fallback] * rows, bad={})
    cells = table.texts(match.heading)
    plain = {cell: plain_text(cell).strip() for cell in set(cells)}
    written = [plain[cell] for cell in cells]
    known = {text: (text, club_category(text, names=names)) for text in plain.values() if not is_blank(text)}
    empty = (default or "", fallback)
    found = [known.get(text, empty) for text in written]
    bad = {index: Problem(row=int(table.lines[index]), column=match.heading, text=written[index],
                          expected="a club, such as Driver, 5w, 7i or PW")
           for index, (_, category) in enumerate(found) if not category}
    return Labels(names=[name for name, _ in found], categories=[category or "" for _, category in found], bad=bad)


def read_players(table: Table, match: ColumnMatch | None, player: str | None,
                 ) -> tuple[NDArray[np.bool_] | None, dict[str, int]]:
    """Return which rows are the player's (None: all) and how many balls each other player has.

    Raises ``AmbiguousFile`` where several players are in the file and none, or none of them, was chosen.
    """
    if match is None:
        return None, {}
    written = [tidy(plain_text(text)) for text in table.texts(match.heading)]
    counts = Counter(name for name in written if not is_blank(name))
    if player is None and len(counts) <= 1:
        return None, {}
    wanted = next((name for name in counts if name.casefold() == tidy(player or "").casefold()), None)
    if wanted is None:
        found = ", ".join(f"{name} ({count})" for name, count in counts.items()) or "nobody"
        said = f"“{player}” is not in the file" if player else "The file holds balls of several players"
        raise AmbiguousFile(f"{said}: {found}. Say whose balls are meant.")
    mask = np.array([name == wanted for name in written])
    return mask, {name or "no name": count for name, count in Counter(written).items() if name != wanted}


def _foreign_category(words: str) -> str | None:
    """Read "eisen 7", "7番アイアン", "bois 3" and the like."""
    for category, names in _CLUB_WORDS.items():
        if words in names:
            return category
    digits = "".join(character for character in words if character.isdigit())
    rest = plain_words("".join(c for c in words if not c.isdigit() and c not in "番号번")).strip()
    if len(digits) == 1:
        for kind, names in (("i", _IRON_WORDS), ("w", _WOOD_WORDS)):
            if rest in {plain_words(name.replace("번", "")) for name in names}:
                return category_of(f"{digits}{kind}")
    return None
