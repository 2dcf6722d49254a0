"""Directions written as words or letters beside a number: "12.3 L", "R 4", "2.1 open", "3 out-to-in"."""

import re
import unicodedata
from dataclasses import dataclass

from metrics.fields import MIRRORED

from .numbers import tidy


@dataclass(frozen=True, kw_only=True)
class Side:
    """What a word beside a number means. ``sign`` turns the number; ``by_target`` says against what.

    ``by_target`` True: + is right of the target, whoever plays (still to be mirrored for a left-hander).
    False: + is the slice side already.
    """

    sign: int
    by_target: bool


_LEFT_RIGHT = {
    **dict.fromkeys(("l", "left", "links", "li", "gauche", "g", "izquierda", "izq", "sinistra", "sx",
                     "vanster", "v", "esquerda", "esq", "左", "좌"), Side(sign=-1, by_target=True)),
    **dict.fromkeys(("r", "right", "rechts", "re", "droite", "d", "derecha", "der", "destra", "dx",
                     "hoger", "h", "direita", "dir", "右", "우"), Side(sign=1, by_target=True)),
}
_FACE = {
    **dict.fromkeys(("o", "open", "offen", "ouvert", "ouverte", "abierta", "aperta"),
                    Side(sign=1, by_target=False)),
    **dict.fromkeys(("c", "closed", "geschlossen", "ferme", "fermee", "cerrada", "chiusa"),
                    Side(sign=-1, by_target=False)),
}
_PATH = {
    **dict.fromkeys(("in-to-out", "in to out", "in-out", "i-o", "io"), Side(sign=1, by_target=False)),
    **dict.fromkeys(("out-to-in", "out to in", "out-in", "o-i", "oi"), Side(sign=-1, by_target=False)),
}
_UP_DOWN = {
    **dict.fromkeys(("u", "up"), Side(sign=1, by_target=False)),
    **dict.fromkeys(("d", "down", "dn"), Side(sign=-1, by_target=False)),
}
_WORDS: dict[str, dict[str, Side]] = {
    **dict.fromkeys(MIRRORED, _LEFT_RIGHT),
    "face_angle_deg": _LEFT_RIGHT | _FACE,
    "face_to_path_deg": _LEFT_RIGHT | _FACE,
    "club_path_deg": _LEFT_RIGHT | _PATH,
    "attack_angle_deg": _UP_DOWN,
    "launch_angle_deg": _UP_DOWN,
    "strike_heel_toe_mm": {
        **dict.fromkeys(("h", "heel"), Side(sign=1, by_target=False)),
        **dict.fromkeys(("t", "toe"), Side(sign=-1, by_target=False)),
    },
    "strike_high_low_mm": {
        **dict.fromkeys(("h", "high", "up"), Side(sign=1, by_target=False)),
        **dict.fromkeys(("l", "low", "down"), Side(sign=-1, by_target=False)),
    },
}
_CELL = re.compile(r"(?P<before>[^\d.,+\-]*)(?P<number>[+\-]?[\d.,' ’]*\d[.,]?°?)(?P<after>.*)", re.DOTALL)


def split_cell(text: str) -> tuple[str, str, str] | None:
    """Return (word before, number, word after) of a cell, or None where it holds no digit.

    >>> split_cell("12.3 L"), split_cell("R 4"), split_cell("182 yd")
    (('', '12.3', 'l'), ('r', '4', ''), ('', '182', 'yd'))
    """
    plain = tidy(text)
    found = _CELL.fullmatch(plain)
    if not found:
        return None
    return _word(found["before"]), found["number"].strip(), _word(found["after"])


def side_of(word: str, *, field: str) -> Side | None:
    """Return what a direction word means for a field, or None where it is no such word."""
    words = _WORDS.get(field, {})
    return words.get(word) or words.get(_bare(word))


def example(field: str) -> str:
    """Return how a direction may be written in this field, for the sentence of a problem; "" if none."""
    if field in MIRRORED:
        return ", 12.3 L or R 4"
    return ", 3 down or 2 up" if _WORDS.get(field) is _UP_DOWN else ""


def _word(text: str) -> str:
    return text.strip().strip("()[].,;:°").strip().lower()


def _bare(word: str) -> str:
    """Drop accents, so that "fermé" and "ferme" are one word."""
    return "".join(c for c in unicodedata.normalize("NFKD", word) if not unicodedata.combining(c))
