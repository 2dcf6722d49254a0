"""Tagging mishits: marked, kept, and shown with and without; never deleted.

By the numbers where there are any (metrics.spread), by what was called for the kinds that nobody takes for a struck
ball. The tag is derived: it follows the block's own median and is worked out anew when a ball changes.
"""

import numpy as np

from metrics.spread import CALLED_MISHITS, tag_mishits

from .frames import BlockShots
from .models import Shot

FEWEST_FOR_A_MEDIAN = 5


def mishits_among(*, numbers: dict[str, np.ndarray], contacts: tuple[str, ...], excluded: np.ndarray) -> np.ndarray:
    """Return True for each mishit. Balls taken out by the coach do not shape the median; below five no number does."""
    tagged = np.array([contact in CALLED_MISHITS for contact in contacts], dtype=bool)
    columns = {key: numbers[key] for key in ("carry_m", "smash_factor") if key in numbers}
    if not columns or (~excluded).sum() < FEWEST_FOR_A_MEDIAN:
        return tagged
    typical = {key: _median(values[~excluded]) for key, values in columns.items()}
    return tagged | tag_mishits(
        carry_m=columns.get("carry_m"), smash_factor=columns.get("smash_factor"),
        typical_carry_m=typical.get("carry_m"), typical_smash=typical.get("smash_factor"),
    )


def retag(shots: BlockShots) -> BlockShots:
    """Return the balls with their tags as they should be, and store those that changed. At most two queries."""
    if not shots.count:
        return shots
    tagged = mishits_among(numbers=shots.numbers, contacts=shots.contacts, excluded=shots.excluded)
    for wanted in (True, False):
        wrong = [shots.keys[i] for i in np.flatnonzero((tagged == wanted) & (shots.mishit != wanted))]
        if wrong:
            Shot.objects.filter(pk__in=wrong).update(is_mishit=wanted)
    return shots.tagged(tagged)


def _median(values: np.ndarray) -> float | None:
    known = values[np.isfinite(values)]
    return float(np.median(known)) if known.size >= FEWEST_FOR_A_MEDIAN else None
