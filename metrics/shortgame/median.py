"""A median with an interval that assumes no shape: distances left are never normal."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

LEVEL = 0.95


@dataclass(frozen=True, kw_only=True)
class Median:
    """The median and the widest pair of ordered values that surely (95 % or more) holds the true one."""

    median: float
    lo: float
    hi: float


def median_interval(*, values: Sequence[float]) -> Median:
    """Return the median with its exact interval from order statistics, in the unit of the values.

    The interval needs 6 values (NaN below): its level is at least 95 %. No values give NaN. Source: binomial count
    of values below the median, any textbook; held to scipy in the tests.
    """
    data = np.sort(np.asarray(values, dtype=np.float64))
    n = int(data.size)
    if n == 0:
        return Median(median=math.nan, lo=math.nan, hi=math.nan)
    middle = float(np.median(data))
    rank = _rank(n)
    if rank is None:
        return Median(median=middle, lo=math.nan, hi=math.nan)
    return Median(median=middle, lo=float(data[rank]), hi=float(data[n - 1 - rank]))


def _rank(n: int) -> int | None:
    """Return the largest r with 2·P(fewer than r+1 of n lie below) ≤ 5 %, None where even 0 is too much."""
    found, below = None, 0.0
    for r in range(n // 2):
        below += math.comb(n, r) / 2**n
        if 2 * below > 1 - LEVEL:
            break
        found = r
    return found
