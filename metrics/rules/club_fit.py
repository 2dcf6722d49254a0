"""The club-fit flag: a start bias that grows with loft looks like a lie angle, not like a swing."""

import math

import numpy as np

from metrics.distributions import student_t_quantile
from metrics.rules.pairs import LEVEL, Estimate
from metrics.rules.types import BlockEvidence

MIN_CLUBS = 3
MIN_BALLS = 5


def lie_from_starts(evidence: BlockEvidence) -> Estimate | None:
    """Return the lie error, degrees, that the start lines of several clubs point to; + starts to the slice side.

    A lie error of L degrees starts the ball at about L x tan(loft) (geometry, ``metrics.setup_geometry``), so
    the mean starts are fitted by a line in tan(loft) without a constant, each club weighed by its balls and its
    spread. The interval is the fit's own. None below three clubs of five balls, or where the starts differ in side.
    """
    rows = [row for row in evidence.club_starts if row.n >= MIN_BALLS]
    if len(rows) < MIN_CLUBS or len({math.copysign(1, row.mean_deg) for row in rows}) > 1:
        return None
    tangent = np.array([math.tan(math.radians(row.loft_deg)) for row in rows])
    mean = np.array([row.mean_deg for row in rows])
    weight = np.array([row.n / max(row.sd_deg**2, 1e-6) for row in rows])
    slope = float(np.sum(weight * tangent * mean) / np.sum(weight * tangent**2))
    half = student_t_quantile(p=0.5 + LEVEL / 2, df=len(rows) - 1) / math.sqrt(float(np.sum(weight * tangent**2)))
    return Estimate(value=slope, lo=slope - half, hi=slope + half, sd=None, n=sum(row.n for row in rows))
