"""Drift inside one visit: warming up, tiring, or still getting used to a change."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from metrics.change.settings import EDGE_BALLS, setting
from metrics.change.words import Sentences
from metrics.distributions import student_t_cdf

DriftCode = Literal["drift", "perhaps", "steady", "too_few"]


@dataclass(frozen=True, kw_only=True)
class Drift:
    """Whether a number moved during one unchanged block of balls, in the stored unit.

    ``slope`` is the change per ball of the straight line, ``p_slope`` its two-sided test; ``first`` and ``last``
    are the means of the first and last ten. NaN below 20 balls.
    """

    code: DriftCode
    slope: float
    p_slope: float
    first: float
    last: float
    n: int
    coach: Sentences


def session_drift(*, values: Sequence[float], swc: float, unit: str = "", digits: int = 1,
                  signed: bool = False) -> Drift:
    """Return whether balls of one constant condition, in the order struck, drift.

    "drift" needs both: a slope that would arise by luck less than 1 time in 20, and first and last ten apart by at
    least the smallest worthwhile change ``swc`` (> 0). One of the two alone is "perhaps": of two steady tens,
    1 in 4 pairs differ that much by luck. "too_few" under 20 balls (a setting); NaN values are dropped. unit,
    digits and signed say how the sentences write the numbers.
    """
    if not swc > 0:
        raise ValueError(f"the smallest worthwhile change must be above 0, got {swc}")
    balls = np.asarray([v for v in values if not math.isnan(v)], dtype=np.float64)
    n = int(balls.size)
    nan = math.nan
    fewest = int(setting("drift_balls"))
    if n < fewest:
        words = Sentences(verdict="Can’t tell yet", reason=f"Not enough balls yet: {n}, {fewest} needed.",
                          next_step="Nothing to do.")
        return Drift(code="too_few", slope=nan, p_slope=nan, first=nan, last=nan, n=n, coach=words)
    slope, p = slope_test(values=balls.tolist())
    first, last = float(balls[:EDGE_BALLS].mean()), float(balls[-EDGE_BALLS:].mean())
    apart = abs(last - first) >= swc
    code: DriftCode = "drift" if apart and p < 0.05 else "perhaps" if apart or p < 0.05 else "steady"
    start, end = (f"{value:{'+' if signed else ''}.{digits}f}{unit}".replace("-", "−") for value in (first, last))
    return Drift(code=code, slope=slope, p_slope=p, first=first, last=last, n=n,
                 coach=_sentences(code, start, end, n))


def slope_test(*, values: Sequence[float]) -> tuple[float, float]:
    """Return the least-squares slope per ball and its two-sided p; at least 3 finite values (ValueError)."""
    y = np.asarray(values, dtype=np.float64)
    n = y.size
    if n < 3 or not np.isfinite(y).all():
        raise ValueError(f"a slope needs at least 3 finite values, got {n}")
    x = np.arange(n) - (n - 1) / 2
    sxx = float((x * x).sum())
    slope = float((x * y).sum()) / sxx
    left = float(((y - y.mean() - slope * x) ** 2).sum())
    if left <= 1e-24 * float((y * y).sum()):
        return slope, 1.0 if abs(slope) * n <= 1e-12 * float(np.abs(y).max()) else 0.0
    t = slope / math.sqrt(left / (n - 2) / sxx)
    return slope, 2 * student_t_cdf(t=-abs(t), df=n - 2)


def split_adaptation(
    *, values: Sequence[float], balls: int | None = None,
) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Return the first balls after a change (kept, not judged; 5 unless said) and the balls to judge.

    Raises ValueError for a negative count.
    """
    count = int(setting("adaptation_balls")) if balls is None else balls
    if count < 0:
        raise ValueError(f"the number of adaptation balls must be 0 or more, got {count}")
    return tuple(values[:count]), tuple(values[count:])


def _sentences(code: DriftCode, first: str, last: str, n: int) -> Sentences:
    seen = f"First ten {first}, last ten {last} (n {n})."
    verdict, reason, following = {
        "drift": ("Drifted within the visit", "The balls moved steadily in one direction.",
                  "Judge the first ten only, and look at warm-up, tiredness and adaptation."),
        "perhaps": ("May have drifted", "A difference like this also comes by luck.",
                    "Judge the first ten only, and watch whether it comes again."),
        "steady": ("Steady through the visit", "No drift beyond luck.", "Nothing to do."),
    }[code]
    return Sentences(verdict=verdict, reason=f"{seen} {reason}", next_step=following)
