"""How much the balls scatter: mishits, spreads and their change, landing ellipse, playable and clean shares."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from metrics.change.settings import SETTINGS, setting
from metrics.distributions import normal_quantile, student_t_cdf
from metrics.intervals import present, wilson_interval

MISHIT_CARRY_SHARE = 0.60
MISHIT_SMASH_SHARE = 0.85
"""Below these shares of the median a ball is a mishit. Common practice, no source. No settings: the tags are stored
with the balls, and a value that is changed would leave the old ones standing."""
CALLED_MISHITS = frozenset({"fat", "top", "sky", "shank"})
"""Contacts, as they are called by eye, that nobody takes for a struck ball; thin, heel and toe are struck."""
Numbers1D = Sequence[float] | NDArray[np.float64]


def tag_mishits(*, carry_m: Numbers1D | None = None, smash_factor: Numbers1D | None = None,
                typical_carry_m: float | None = None, typical_smash: float | None = None) -> NDArray[np.bool_]:
    """Return True for each ball carrying less than 60 % or with a smash below 85 % of the player's own median.

    carry_m, smash_factor: one value a ball of one club, NaN where not measured (then that rule is silent for it);
    at least one of the two, of one length (ValueError). The typical values replace the median of these balls, which
    misleads once half of them are mishits. Tagged balls are never deleted: show numbers with and without them.
    Common practice, no source.
    """
    columns = [(np.asarray(values, dtype=np.float64), typical, share) for values, typical, share in (
        (carry_m, typical_carry_m, MISHIT_CARRY_SHARE), (smash_factor, typical_smash, MISHIT_SMASH_SHARE),
    ) if values is not None]
    if not columns or len({column.shape for column, _, _ in columns}) != 1:
        raise ValueError("mishits need carry or smash factor, one value a ball, both of one length")
    tagged = np.zeros(columns[0][0].shape, dtype=np.bool_)
    for column, typical, share in columns:
        known = present(column)
        median = typical if typical is not None else float(np.median(known)) if known.size else math.nan
        tagged |= column < share * median
    return tagged


@dataclass(frozen=True, kw_only=True)
class Rate:
    """A share of balls with its Wilson interval at 95 %; all NaN without a ball."""

    successes: int
    trials: int
    share: float
    lo: float
    hi: float


def rate(*, successes: int, trials: int, level: float = 0.95) -> Rate:
    """Return a share with its Wilson interval: made putts, clean contacts, mishits."""
    lo, hi = wilson_interval(successes=successes, trials=trials, level=level)
    share = successes / trials if trials else math.nan
    return Rate(successes=successes, trials=trials, share=share, lo=lo, hi=hi)


@dataclass(frozen=True, kw_only=True)
class RateChange:
    """How a share changed: after minus before with its 95 % interval, and what may be said of it."""

    word: Literal["more", "fewer", "cannot_tell", "too_few"]
    before: Rate
    after: Rate
    difference: float
    lo: float
    hi: float


def rate_change(*, before: Rate, after: Rate) -> RateChange:
    """Return the change of a share: playable balls, clean contacts, mishits.

    Newcombe's interval from the two Wilson intervals (1998, his method 10); balls are taken as independent, the
    day's effect is not in it. "more" and "fewer" need 10 balls a side, 10 points and an interval that leaves 0 out.
    Without a ball on a side the numbers are NaN.
    """
    gap = after.share - before.share
    down = math.hypot(after.share - after.lo, before.hi - before.share)
    up = math.hypot(after.hi - after.share, before.share - before.lo)
    lo, hi = gap - down, gap + up
    word: Literal["more", "fewer", "cannot_tell", "too_few"] = "cannot_tell"
    if min(before.trials, after.trials) < setting("balls_to_judge_rate"):
        word = "too_few"
    elif abs(gap) >= setting("swc_rate") - 1e-9 and (lo > 0 or hi < 0):
        word = "more" if gap > 0 else "fewer"
    return RateChange(word=word, before=before, after=after, difference=gap, lo=lo, hi=hi)


def playable_share(category: str) -> float:
    """Return how far off line, as a share of the carry, still counts as playable (memory; a setting).

    Raises ValueError for clubs judged otherwise (putter, greenside sand).
    """
    key = f"playable_{category}"
    if key not in SETTINGS:
        raise ValueError(f"no playable width is kept for {category}")
    return setting(key)


def playable(*, side_m: Numbers1D, carry_m: float, share: float) -> Rate:
    """Return the share of balls that finished within ``share`` of the ``carry_m`` to either side of the target.

    side_m: metres off the target line, NaN (not measured) is not counted. carry_m: the wanted carry, > 0.
    share: see ``playable_share``. Raises ValueError for a carry or share not above 0.
    """
    if not (carry_m > 0 and share > 0):
        raise ValueError(f"playable needs a carry and a share above 0, got {carry_m} and {share}")
    sides = present(np.asarray(side_m, dtype=np.float64))
    return rate(successes=int(np.sum(np.abs(sides) <= share * carry_m)), trials=int(sides.size))


@dataclass(frozen=True, kw_only=True)
class SpreadChange:
    """How a spread changed: SD after over SD before with its 95 % interval, balls, and what may be said.

    ``p_brown_forsythe`` tests the same without assuming normal shots (two-sided; NaN where it cannot be formed).
    """

    word: Literal["tighter", "wider", "cannot_tell", "too_few"]
    sd_before: float
    sd_after: float
    ratio: float
    lo: float
    hi: float
    balls_before: int
    balls_after: int
    p_brown_forsythe: float


def spread_change(*, before: Sequence[Numbers1D], after: Sequence[Numbers1D]) -> SpreadChange:
    """Return the change in shot-to-shot SD between two sets of visits (one array a visit, NaN dropped).

    The SD is pooled within visits, so that a different day is not mistaken for a wider swing. The interval is
    ln ratio +- 1.96 sqrt(1/(2 df1) + 1/(2 df2)), df = balls - visits, normal shots assumed. "tighter" needs 20
    balls a side, an interval below 1 and a ratio of 0.80 or less; "wider" is its mirror. Below 2 balls all is NaN.
    """
    (sd1, df1, n1), (sd2, df2, n2) = _pooled(before), _pooled(after)
    if not (df1 and df2 and sd1 > 0 and sd2 > 0):
        ratio = lo = hi = math.nan
    else:
        ratio = sd2 / sd1
        half = normal_quantile(p=0.975) * math.sqrt(1 / (2 * df1) + 1 / (2 * df2))
        lo, hi = ratio * math.exp(-half), ratio * math.exp(half)
    return SpreadChange(
        word=_spread_word(ratio, lo, hi, min(n1, n2)), sd_before=sd1, sd_after=sd2, ratio=ratio, lo=lo, hi=hi,
        balls_before=n1, balls_after=n2, p_brown_forsythe=brown_forsythe(before=before, after=after))


def _pooled(visits: Sequence[Numbers1D]) -> tuple[float, int, int]:
    """Pooled SD within visits, its degrees of freedom and the balls."""
    arrays = [present(np.asarray(visit, dtype=np.float64)) for visit in visits]
    balls = sum(int(a.size) for a in arrays)
    df = sum(int(a.size) - 1 for a in arrays if a.size)
    squares = sum(float(((a - a.mean()) ** 2).sum()) for a in arrays if a.size)
    return (math.sqrt(squares / df) if df else math.nan), df, balls


def _spread_word(ratio: float, lo: float, hi: float,
                 balls: int) -> Literal["tighter", "wider", "cannot_tell", "too_few"]:
    if balls < setting("balls_to_judge_spread") or math.isnan(ratio):
        return "too_few"
    if hi < 1 and ratio <= setting("swc_spread_ratio"):
        return "tighter"
    if lo > 1 and ratio >= 1 / setting("swc_spread_ratio"):
        return "wider"
    return "cannot_tell"


def brown_forsythe(*, before: Sequence[Numbers1D], after: Sequence[Numbers1D]) -> float:
    """Return the two-sided p of the Brown-Forsythe test for two spreads: a t-test on |x - median of the visit|.

    One array a visit, NaN dropped. NaN with fewer than 2 balls a side or without any spread. With one visit a side
    it is the textbook test.
    """
    first, second = _from_medians(before), _from_medians(after)
    n1, n2 = first.size, second.size
    if n1 < 2 or n2 < 2:
        return math.nan
    df = n1 + n2 - 2
    pooled = (first.var() * n1 + second.var() * n2) / df
    if not pooled > 0:
        return math.nan
    t = abs(float(first.mean() - second.mean())) / math.sqrt(pooled * (1 / n1 + 1 / n2))
    return 2 * student_t_cdf(t=-t, df=df)


def _from_medians(visits: Sequence[Numbers1D]) -> NDArray[np.float64]:
    """How far each ball is from the median of its own visit."""
    found = [np.empty(0)]
    for visit in visits:
        balls = present(np.asarray(visit, dtype=np.float64))
        if balls.size:
            found.append(np.abs(balls - np.median(balls)))
    return np.concatenate(found)


@dataclass(frozen=True, kw_only=True)
class LandingEllipse:
    """Where the next ball should land with the stated chance. Metres; ``turn_deg`` turns the long axis from the
    target line toward + side."""

    side_m: float
    carry_m: float
    half_long_m: float
    half_short_m: float
    turn_deg: float
    n: int
    level: float

    def outline(self, *, points: int = 73) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """Return side and carry of a closed outline, ready to draw."""
        around = np.linspace(0, 2 * math.pi, points)
        along, across = self.half_long_m * np.cos(around), self.half_short_m * np.sin(around)
        turn = math.radians(self.turn_deg)
        return (self.side_m + along * math.sin(turn) + across * math.cos(turn),
                self.carry_m + along * math.cos(turn) - across * math.sin(turn))


def landing_ellipse(*, side_m: Numbers1D, carry_m: Numbers1D, level: float = 0.95) -> LandingEllipse | None:
    """Return the ellipse that holds the next ball with chance ``level``; None below 20 balls (show dots only).

    side_m, carry_m: one value a ball, same length (ValueError); a ball lacking either is dropped. Small samples are
    allowed for: radius^2 = 2 (n-1)(n+1) / (n (n-2)) F(level; 2, n-2) in units of the sample covariance, the
    normal-theory prediction region of any textbook. Calm, or one wind; mishits left out by the caller.
    """
    points = np.column_stack([np.asarray(side_m, dtype=np.float64), np.asarray(carry_m, dtype=np.float64)])
    points = points[~np.isnan(points).any(axis=1)]
    n = len(points)
    if n < setting("balls_for_ellipse"):
        return None
    m = (n - 2) / 2
    # The F quantile with 2 degrees above has a closed form.
    f = m * ((1 - level) ** (-1 / m) - 1)
    radius = math.sqrt(2 * (n - 1) * (n + 1) / (n * (n - 2)) * f)
    variances, axes = np.linalg.eigh(np.cov(points, rowvar=False))
    short, long = np.sqrt(np.maximum(variances, 0.0)) * radius
    side, carry = axes[:, 1] * (1.0 if axes[1, 1] >= 0 else -1.0)
    centre = points.mean(axis=0)
    return LandingEllipse(
        side_m=float(centre[0]), carry_m=float(centre[1]), half_long_m=float(long), half_short_m=float(short),
        turn_deg=math.degrees(math.atan2(side, carry)), n=n, level=level)
