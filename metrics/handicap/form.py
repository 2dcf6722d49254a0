"""How the latest rounds went as a whole, and what of it is luck. Not a rule of handicapping: a teacher's reading."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from metrics.intervals import mean_estimate

LAST = 10
ASSUMED_SD = 4.0
"""Spread of a player's differentials until five are known: 3 to 4 for low, 4 to 6 for high indices, from memory."""
ENOUGH_FOR_OWN_SD = 5
_TWO_MEANS = 1.96 * math.sqrt(2)


@dataclass(frozen=True, kw_only=True)
class Form:
    """The latest rounds: mean, SD, n, the 95 % interval of the mean, and ``noise``: how far two means of ten may
    lie apart by luck alone. ``own_sd`` says whether the noise comes from the player's own spread."""

    n: int
    mean: float
    sd: float
    lo: float
    hi: float
    noise: float
    own_sd: bool


def luck_between_means(*, sd: float, rounds: int) -> float:
    """Return 1.96 · √2 · SD / √rounds, in strokes: below it two means of so many rounds differ by luck alone.

    Assumes independent rounds of one spread. Raises ValueError for an SD below 0 or no rounds.

    >>> round(luck_between_means(sd=4, rounds=10), 1)
    3.5
    """
    if sd < 0 or rounds < 1:
        raise ValueError(f"SD {sd} and {rounds} rounds were found; expected 0 or more and 1 or more")
    return _TWO_MEANS * sd / math.sqrt(rounds)


def luck_between(*, sd: float, before: int, after: int) -> float:
    """Return 1.96 · SD · √(1/before + 1/after), in strokes: what two means of so many rounds differ by through luck.

    Assumes independent rounds of one spread. Raises ValueError for an SD below 0 or no rounds on a side.

    >>> round(luck_between(sd=4, before=10, after=5), 1)
    4.3
    """
    if sd < 0 or before < 1 or after < 1:
        raise ValueError(f"SD {sd}, {before} and {after} rounds were found; expected 0 or more, and 1 or more each")
    return 1.96 * sd * math.sqrt(1 / before + 1 / after)


def form_of(differentials: Sequence[float]) -> Form | None:
    """Return the form over the last ten differentials, oldest first; None without any.

    Official rules look at the best eight of twenty, so an index lags and hides the poor days; this does not. The
    noise uses the SD of the (up to 20) latest rounds from five on, an assumed 4.0 before.
    """
    if not differentials:
        return None
    last = mean_estimate(values=differentials[-LAST:])
    known = mean_estimate(values=differentials[-2 * LAST:])
    own = known.n >= ENOUGH_FOR_OWN_SD
    noise = luck_between_means(sd=known.sd if own else ASSUMED_SD, rounds=LAST)
    return Form(n=last.n, mean=last.mean, sd=last.sd, lo=last.lo, hi=last.hi, noise=noise, own_sd=own)
