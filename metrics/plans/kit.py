"""What a drill needs and whether the player has it. Clubs, balls and a card are taken as at hand."""

import re
from collections.abc import Iterable

from metrics.rules.records import Drill

PLACES: dict[str, str] = {
    "range": "Range", "green": "Practice green", "bunker": "Practice bunker", "home": "At home", "garden": "Garden",
    "course": "Course",
}
KIT: dict[str, str] = {
    "sticks": "Alignment sticks", "tees": "Tees", "mirror": "Mirror or dark window", "tape": "Tape, string or chalk",
    "spray": "Foot spray or powder", "towel": "Towel", "soft": "Soft barrier (noodle, sleeve)",
    "phone": "Phone that films", "partner": "Partner or a device with numbers",
}
_WORDS: dict[str, tuple[str, ...]] = {
    "sticks": ("alignment stick",), "tees": ("tee",), "mirror": ("mirror", "window"),
    "tape": ("tape", "string", "chalk", "rope"), "spray": ("spray", "powder"), "towel": ("towel",),
    "soft": ("noodle", "sleeve", "soft"), "phone": ("phone", "tripod"), "partner": ("partner", "numbers"),
}
_AT_HAND = ("iron", "driver", "wedge", "putter", "club", "bag", "fairway wood", "card", "ball")


def alternatives(item: str) -> frozenset[str] | None:
    """Return the keys of KIT of which one suffices for a line of a drill's kit; None where nothing is needed.

    An item nobody knows is a need that nobody has: an empty set.

    >>> sorted(alternatives("spray, rope or tape")), alternatives("7-iron")
    (['spray', 'tape'], None)
    """
    found: set[str] = set()
    for part in re.split(r",| or ", item.lower()):
        if any(word in part for word in _AT_HAND) and not any(w in part for words in _WORDS.values() for w in words):
            return None
        found |= {key for key, words in _WORDS.items() if any(word in part for word in words)}
    return frozenset(found)


def can_do(drill: Drill, *, places: Iterable[str], kit: Iterable[str]) -> bool:
    """Say whether the player has a place for the drill and everything it needs."""
    have = set(kit)
    needed = [alternatives(item) for item in drill.kit]
    return bool(set(drill.places) & set(places)) and all(one is None or one & have for one in needed)
