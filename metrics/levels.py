"""The player's level band: where a new player's expectations come from until their own balls speak."""

from typing import Literal

Level = Literal["scratch", "index_1_5", "index_6_12", "index_13_20", "index_21_36", "beginner"]

LEVELS: dict[Level, str] = {
    "scratch": "Scratch or plus",
    "index_1_5": "Index 1 to 5",
    "index_6_12": "Index 6 to 12",
    "index_13_20": "Index 13 to 20",
    "index_21_36": "Index 21 to 36",
    "beginner": "Beginner",
}
"""Level slug -> what a person calls it, best first."""

# A band ends where the next whole index begins: 5.9 is still "1 to 5".
_UPPER: tuple[tuple[float, Level], ...] = (
    (1.0, "scratch"), (6.0, "index_1_5"), (13.0, "index_6_12"), (21.0, "index_13_20"), (37.0, "index_21_36"))

UNKNOWN: Level = "index_21_36"
"""Without an index the wide band is taken: a wide prior claims a change later, never too early."""


def level_of(handicap_index: float | None, *, beginner: bool = False) -> Level:
    """Return the level band for a handicap index; plus players are negative (+2.1 is -2.1).

    ``beginner`` wins over any index; no index gives ``UNKNOWN``; 37.0 and above is a beginner. Raises
    ValueError outside -10..54, the range of an index. The bands are common practice, no source.

    >>> level_of(-1.2), level_of(5.9), level_of(18), level_of(None), level_of(12, beginner=True)
    ('scratch', 'index_1_5', 'index_13_20', 'index_21_36', 'beginner')
    """
    if beginner:
        return "beginner"
    if handicap_index is None:
        return UNKNOWN
    if not -10 <= handicap_index <= 54:
        raise ValueError(f"a handicap index lies between -10 (plus 10) and 54, got {handicap_index}")
    for upper, level in _UPPER:
        if handicap_index < upper:
            return level
    return "beginner"
