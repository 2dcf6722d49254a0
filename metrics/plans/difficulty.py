"""A task is worth its minutes while it works 60 to 80 times in a hundred."""

from collections.abc import Sequence
from typing import Literal

EASIEST, HARDEST = 0.85, 0.50
WANTED = (0.60, 0.80)
"""Common practice, after the idea of an optimal challenge; no trial sets these numbers."""
Step = Literal["harder", "easier", "same"]


def next_step(*, shares: Sequence[float]) -> Step:
    """Return what to do with a task from its shares of passes, oldest first: above 85 % twice running it gets harder,
    below 50 % twice running easier, else it stays. Raises ValueError for a share outside 0..1."""
    if any(not 0 <= share <= 1 for share in shares):
        raise ValueError("a share of passes lies between 0 and 1")
    last = shares[-2:]
    if len(last) == 2 and min(last) > EASIEST:
        return "harder"
    if len(last) == 2 and max(last) < HARDEST:
        return "easier"
    return "same"
