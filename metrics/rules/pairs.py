"""Estimates that compare two blocks: before and after, with aids and without, this visit and the next."""

import math
from dataclasses import dataclass

import numpy as np

from metrics.distributions import student_t_quantile
from metrics.intervals import mean_estimate
from metrics.rules.limits import intent_window
from metrics.rules.quantities import column
from metrics.rules.route_records import Condition
from metrics.rules.types import Balls, BlockEvidence, Shots

LEVEL = 0.80
"""Level of every interval the rules use: wholly past the watch value at this level makes a finding supported."""
GAIN_SDS = 0.88
"""A gain within one visit must reach this many shot SDs (10 balls a side) before its loss means anything."""


@dataclass(frozen=True, kw_only=True)
class Estimate:
    """A number with its interval; ``mean``/``sd`` describe the column behind it, ``n`` the balls that count,
    ``left_out`` the mishits that do not."""

    value: float
    lo: float
    hi: float
    sd: float | None
    n: int
    measured: bool = True
    inferred: bool = False
    left_out: int = 0


def difference(a: Balls, *, b: Balls) -> Estimate:
    """Return the mean of b minus the mean of a with Welch's interval (Welch 1947, any textbook)."""
    first, second = mean_estimate(values=a, level=LEVEL), mean_estimate(values=b, level=LEVEL)
    gap = second.mean - first.mean
    v1, v2 = first.sd**2 / first.n, second.sd**2 / second.n
    if v1 + v2 == 0:
        return Estimate(value=gap, lo=gap, hi=gap, sd=0.0, n=min(first.n, second.n))
    df = (v1 + v2) ** 2 / (v1**2 / (first.n - 1) + v2**2 / (second.n - 1))
    half = student_t_quantile(p=0.5 + LEVEL / 2, df=df) * math.sqrt(v1 + v2)
    return Estimate(value=gap, lo=gap - half, hi=gap + half, sd=second.sd, n=min(first.n, second.n))


def of_pair(condition: Condition, *, evidence: BlockEvidence) -> Estimate | None:
    """Return the aid gap or the share given back, or None where a block is missing."""
    if evidence.pair is None:
        return None
    if condition.statistic == "aid_gap":
        return _aid_gap(condition.quantity, evidence)
    return _given_back(condition.quantity, evidence)


def _aid_gap(quantity: str, evidence: BlockEvidence) -> Estimate | None:
    """Distance of the no-aid mean from the window minus that of the with-aid mean, in the quantity's unit."""
    assert evidence.pair is not None
    window = intent_window(quantity, evidence=evidence)
    aided, bare = (_column(quantity, evidence, s) for s in (evidence.pair.with_aid, evidence.pair.no_aid))
    if window is None or aided.size < 2 or bare.size < 2:
        return None
    with_aid, no_aid = mean_estimate(values=aided, level=LEVEL), mean_estimate(values=bare, level=LEVEL)
    gap = _distance(no_aid.mean, window) - _distance(with_aid.mean, window)
    half = no_aid.mean - no_aid.lo
    return Estimate(value=gap, lo=gap - half, hi=gap + half, sd=no_aid.sd, n=min(with_aid.n, no_aid.n))


def _given_back(quantity: str, evidence: BlockEvidence) -> Estimate | None:
    """How much of the gain with aids was gone in the next visit's first ten, in per cent of the gain."""
    assert evidence.pair is not None
    pair = evidence.pair
    first, end, back = (_column(quantity, evidence, s)
                        for s in (pair.baseline, pair.with_aid, pair.next_first_ten))
    if min(first.size, end.size, back.size) < 2:
        return None
    gain = float(end.mean() - first.mean())
    sd = math.sqrt((float(first.var(ddof=1)) + float(end.var(ddof=1))) / 2)
    if gain == 0 or abs(gain) < GAIN_SDS * sd:
        return None
    given = 100.0 * (1 - float(back.mean() - first.mean()) / gain)
    return Estimate(value=given, lo=math.nan, hi=math.nan, sd=None, n=int(min(end.size, back.size)))


def _distance(value: float, window: tuple[float, float]) -> float:
    return max(window[0] - value, value - window[1], 0.0)


def _column(quantity: str, evidence: BlockEvidence, shots: Shots) -> Balls:
    values = column(quantity, evidence=evidence, shots=shots).values
    return values[np.isfinite(values)]
