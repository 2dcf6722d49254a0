"""An index from differentials: the table for fewer than twenty, the best eight, caps. Rules 5.2, 5.3 and 5.8."""

from collections.abc import Sequence
from fractions import Fraction

from metrics.handicap.scores import MAXIMUM_INDEX, exact, to_tenth

COUNTED = 20
"""Rule 5.2b: the latest twenty differentials are looked at."""
SOFT_CAP, HARD_CAP = 3, 5
"""Rule 5.8: beyond 3.0 above the low index half counts; beyond 5.0 nothing does."""
_FEW: dict[int, tuple[int, int]] = {
    3: (1, -2), 4: (1, -1), 5: (1, 0), 6: (2, -1), 7: (2, 0), 8: (2, 0), 9: (3, 0), 10: (3, 0), 11: (3, 0),
    12: (4, 0), 13: (4, 0), 14: (4, 0), 15: (5, 0), 16: (5, 0), 17: (6, 0), 18: (6, 0), 19: (7, 0), 20: (8, 0),
}
"""Rule 5.2a and b: how many of the lowest are averaged, and what is added."""


def lowest_counted(*, scores: int) -> tuple[int, int]:
    """Return how many of the lowest differentials are averaged, and the adjustment; (0, 0) below 3 scores."""
    return _FEW.get(min(scores, COUNTED), (0, 0))


def uncapped_index(*, differentials: Sequence[float]) -> float | None:
    """Return the index from differentials, oldest first, to one decimal; None below 3 scores. Rules 5.2, 5.3.

    Only the latest 20 are looked at; the result never exceeds 54.0.
    """
    latest = sorted(exact(value) for value in differentials[-COUNTED:])
    lowest, adjustment = lowest_counted(scores=len(latest))
    if not lowest:
        return None
    return min(to_tenth(sum(latest[:lowest], Fraction(0)) / lowest + adjustment), MAXIMUM_INDEX)


def capped_index(*, calculated: float, low_index: float | None) -> tuple[float, str]:
    """Return the index after the caps, and which one held it: "", "soft" or "hard". Rule 5.8.

    ``low_index`` is the lowest of the past 365 days; None (fewer than 20 scores) leaves the value as it is.
    """
    if low_index is None:
        return calculated, ""
    above = exact(calculated) - exact(low_index)
    if above <= SOFT_CAP:
        return calculated, ""
    softened = SOFT_CAP + (above - SOFT_CAP) / 2
    cap = "soft" if softened <= HARD_CAP else "hard"
    held = exact(low_index) + min(softened, Fraction(HARD_CAP))
    return min(to_tenth(held), MAXIMUM_INDEX), cap


def exceptional_reduction(*, differential: float, index: float | None) -> int:
    """Return what an exceptional score takes off: 0, −1 (7.0 to 9.9 below the index) or −2 (10.0 or more).

    ``index`` is the one in effect when the round was played; None means there was none. Rule 5.9.
    """
    if index is None:
        return 0
    below = exact(index) - exact(differential)
    if below >= 10:
        return -2
    return -1 if below >= 7 else 0
