"""Intervals for one block of balls: a mean, a spread, a rate, and two numbers that outliers cannot move."""

import math
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from metrics.distributions import chi_square_quantile, normal_quantile, student_t_quantile

MAD_TO_SD = 1.4826022185056018
"""1 / the 75% point of the standard normal: makes a MAD comparable with an SD for normal data."""


@dataclass(frozen=True, kw_only=True)
class MeanEstimate:
    """A mean with its sample SD (n - 1), the number of values and the Student t interval at ``level``."""

    mean: float
    sd: float
    n: int
    lo: float
    hi: float
    level: float


def present(values: Iterable[float]) -> NDArray[np.float64]:
    """Return the values that were measured, as a flat float array: NaN marks a ball without this number.

    Raises ValueError for an infinite value, which no device measures.
    """
    array = np.asarray(list(values) if not isinstance(values, np.ndarray) else values, dtype=np.float64).ravel()
    if np.isinf(array).any():
        raise ValueError("an infinite value is not a measurement: expected finite numbers or NaN")
    return array[~np.isnan(array)]


def mean_estimate(*, values: Iterable[float], level: float = 0.95) -> MeanEstimate:
    """Return the mean of ``values`` with its interval mean +- t(level, n-1) * sd / sqrt(n).

    values: any number of floats in one unit, NaN where a ball was not measured (dropped, not counted).
    Without a value everything is NaN and n is 0; with one value only the mean is known and sd, lo and
    hi are NaN. Assumes independent, near-normal shots of one visit: it says nothing about the next day.
    Raises ValueError for an infinite value or a level outside 0..1. Source: Student's t, any textbook.
    """
    _require_level(level)
    data = present(values)
    n = int(data.size)
    nan = math.nan
    if n == 0:
        return MeanEstimate(mean=nan, sd=nan, n=0, lo=nan, hi=nan, level=level)
    mean = float(data.mean())
    if n == 1:
        return MeanEstimate(mean=mean, sd=nan, n=1, lo=nan, hi=nan, level=level)
    sd = float(data.std(ddof=1))
    half = student_t_quantile(p=0.5 + level / 2, df=n - 1) * sd / math.sqrt(n)
    return MeanEstimate(mean=mean, sd=sd, n=n, lo=mean - half, hi=mean + half, level=level)


def means_with_intervals(
    *, table: NDArray[np.float64], level: float = 0.95
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """Return mean, SD, lower and upper end of ``mean_estimate`` for each row of a table, one value a row.

    table: rows of at least two finite floats, a row in one unit. Many rows at once cost little more than one.
    Raises ValueError for a table that is not two-dimensional, has gaps, or has fewer than two columns.
    """
    _require_level(level)
    if table.ndim != 2 or table.shape[1] < 2:
        raise ValueError(f"a table with two columns or more is needed, got the shape {table.shape}")
    if not np.isfinite(table).all():
        raise ValueError("a table without gaps is needed: each row has a finite number for each ball")
    count = table.shape[1]
    means, sds = table.mean(axis=1), table.std(axis=1, ddof=1)
    half = student_t_quantile(p=0.5 + level / 2, df=count - 1) * sds / math.sqrt(count)
    return means, sds, means - half, means + half


def sd_interval(*, sd: float, n: int, level: float = 0.95) -> tuple[float, float]:
    """Return the chi-square interval for the true SD behind a sample SD of ``n`` values, same unit.

    Valid for n >= 2 and near-normal shots (heavy tails make it too narrow); (NaN, NaN) for n < 2 or
    an unknown sd. Raises ValueError for a negative sd or a level outside 0..1. Source: any textbook.
    """
    _require_level(level)
    if sd < 0:
        raise ValueError(f"an SD cannot be negative, got {sd}")
    if n < 2 or math.isnan(sd):
        return math.nan, math.nan
    df = n - 1
    tail = (1 - level) / 2
    lo = sd * math.sqrt(df / chi_square_quantile(p=1 - tail, df=df))
    hi = sd * math.sqrt(df / chi_square_quantile(p=tail, df=df))
    return lo, hi


def wilson_interval(*, successes: int, trials: int, level: float = 0.95) -> tuple[float, float]:
    """Return Wilson's score interval for a rate, as two shares in 0..1.

    (NaN, NaN) for no trials. Raises ValueError where the counts cannot be. Source: Wilson 1927,
    formula from memory, held to statsmodels in the tests.
    """
    _require_level(level)
    if trials < 0 or not 0 <= successes <= max(trials, 0):
        raise ValueError(f"{successes} of {trials} is not a count of successes among trials")
    if trials == 0:
        return math.nan, math.nan
    z = normal_quantile(p=0.5 + level / 2)
    share = successes / trials
    weight = 1 + z * z / trials
    centre = (share + z * z / (2 * trials)) / weight
    half = z * math.sqrt(share * (1 - share) / trials + z * z / (4 * trials * trials)) / weight
    lo = 0.0 if successes == 0 else max(0.0, centre - half)
    hi = 1.0 if successes == trials else min(1.0, centre + half)
    return lo, hi


def trimmed_mean(*, values: Iterable[float], share: float = 0.2) -> float:
    """Return the mean after dropping ``share`` of the values (rounded down) at each end.

    NaN values are dropped first; no values give NaN. Raises ValueError for a share outside 0 <= share < 0.5.
    """
    if not 0 <= share < 0.5:
        raise ValueError(f"the trimmed share must lie in 0 <= share < 0.5, got {share}")
    data = np.sort(present(values))
    if data.size == 0:
        return math.nan
    cut = int(share * data.size)
    return float(data[cut:data.size - cut].mean())


def mad(*, values: Iterable[float]) -> float:
    """Return the median absolute deviation from the median, unscaled, in the unit of the values.

    Times ``MAD_TO_SD`` it estimates the SD of normal data. NaN values are dropped; no values give NaN.
    """
    data = present(values)
    if data.size == 0:
        return math.nan
    return float(np.median(np.abs(data - np.median(data))))


def _require_level(level: float) -> None:
    if not 0 < level < 1:
        raise ValueError(f"a level strictly between 0 and 1 is needed, got {level}")
