"""The keys for calling a ball by eye: one for start and curve together, one for the contact.

The keypad is a picture of the range as the coach sees it: the column says where the ball starts, the row where
it curves, left is left. What is stored is player-relative, so a left-hander's keypad carries mirrored values under
the same keys. No query anywhere here.
"""

from dataclasses import dataclass

from lessons.models.shot import Contact

NEAR = {-1: "left", 0: "straight", 1: "right"}

_CURVES = {-2: "hook", -1: "draw", 0: "", 1: "fade", 2: "slice"}
_STARTS = {-1: "pull", 0: "", 1: "push"}

CONTACT_KEYS: tuple[tuple[str, str], ...] = (
    (Contact.CLEAN, "Enter"), (Contact.FAT, "f"), (Contact.THIN, "t"), (Contact.TOP, "p"), (Contact.SKY, "s"),
    (Contact.HEEL, "h"), (Contact.TOE, "o"), (Contact.SHANK, "k"),
)
"""Contact and the key that calls it; the contact is the last key, so it also stores the ball."""


@dataclass(frozen=True, kw_only=True)
class ShapeKey:
    """One of nine keys. ``value`` is what is stored ("start,curve", + the slice side)."""

    digit: int
    value: str
    name: str
    words: str
    path: str


@dataclass(frozen=True, kw_only=True)
class ContactKey:
    value: str
    key: str
    name: str


def shape_keys(*, left_handed: bool) -> list[ShapeKey]:
    """Return the nine keys in reading order: 7 8 9, 4 5 6, 1 2 3."""
    keys = []
    for row, seen_curve in enumerate((-1, 0, 1)):
        for column, seen_start in enumerate((-1, 0, 1)):
            start, curve = to_player(seen_start, left_handed), to_player(seen_curve, left_handed)
            keys.append(ShapeKey(
                digit=(7, 4, 1)[row] + column, value=f"{start},{curve}", name=flight_name(start, curve),
                words=seen_words(start, curve, left_handed=left_handed), path=_drawn(seen_start, seen_curve),
            ))
    return keys


def contact_keys() -> list[ContactKey]:
    """Return the contacts with their keys, clean first."""
    return [ContactKey(value=value, key=key, name=Contact(value).label) for value, key in CONTACT_KEYS]


def to_player(seen: int, left_handed: bool) -> int:
    """Turn left and right as seen from behind the ball into hook and slice side; its own reverse."""
    return -seen if left_handed else seen


def flight_name(start: int | None, curve: int | None) -> str:
    """Return the trade word of a flight from player-relative calls.

    >>> flight_name(1, -1), flight_name(0, 2), flight_name(0, 0)
    ('push draw', 'slice', 'straight')
    """
    words = [_STARTS[start or 0], _CURVES[curve or 0]]
    return " ".join(word for word in words if word) or "straight"


def seen_words(start: int | None, curve: int | None, *, left_handed: bool) -> str:
    """Say what was seen from behind the ball: "starts left, curves right"."""
    said = []
    if start is not None:
        seen = to_player(start, left_handed)
        said.append(f"starts {NEAR[seen]}" if seen else "starts on line")
    if curve is not None:
        seen = to_player(curve, left_handed)
        far = "a lot " if abs(seen) == 2 else ""
        said.append(f"curves {far}{NEAR[(seen > 0) - (seen < 0)]}" if seen else "flies straight")
    return ", ".join(said)


def _drawn(seen_start: int, seen_curve: int) -> str:
    """Return the flight as an SVG path in a 60 by 30 box, the ball at the bottom."""
    return f"M30 28 Q{30 + 9 * seen_start} 16 {30 + 16 * seen_start + 11 * seen_curve} 3"
