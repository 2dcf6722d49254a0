"""The model behind every verdict: a ball = long-run mean + the day's effect + the shot's own error.

    x_ij = mu + b_j + e_ij,   b_j ~ (0, s_b),   e_ij ~ (0, s_w),   k = s_b / s_w

Assumes roughly independent, near-normal shots once mishits are tagged, and like conditions. A plain
t-test on balls ignores b_j and cries "changed" far too often; the tests show how often.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from metrics.change.settings import setting
from metrics.change.visits import Visit, mean_of_visits
from metrics.distributions import student_t_quantile

MIN_PAIRS_FOR_LAG = 20
Z95 = 1.959963984540054


@dataclass(frozen=True, kw_only=True)
class Components:
    """The two spreads of one player with one club: ``s_w`` shot to shot, ``s_b`` day to day.

    ``df`` belongs to s_w (own balls and what the prior counts for); ``k_seen`` is the ratio the player's own
    visits show (None before two alike visits), ``k_df`` how many visits beyond the first spoke; ``lag1`` the
    ball-to-ball correlation that was applied (0 where below the limit or too few pairs).
    """

    s_w: float
    s_b: float
    k: float
    df: float
    k_seen: float | None
    k_df: int
    lag1: float


@dataclass(frozen=True, kw_only=True)
class Change:
    """Mean after minus mean before, with its standard error and t interval, in the stored unit."""

    before: float
    after: float
    delta: float
    se: float
    lo: float
    hi: float
    df: float


def components(*, phases: Sequence[Sequence[Visit]], k: float, sd_prior: float | None = None,
               fixed_k: bool = False) -> Components:
    """Return the spreads from all alike visits of a player.

    phases: groups of visits within which nothing was deliberately changed (before, after, older ones).
    Day effects are read within groups only, so that a taught change is not mistaken for a restless player.
    k: the assumed s_b/s_w (>= 0), counted like 4 visits; ``fixed_k`` keeps it whatever is seen. sd_prior: the
    level's usual s_w, counted like 4 balls; None for none. s_w is NaN where neither says anything.
    Pooled SD and analysis-of-variance estimate as in any textbook; tests hold them to REML.
    """
    if not k >= 0:
        raise ValueError(f"the day effect over the shot spread must be 0 or more, got {k}")
    visits = [visit for phase in phases for visit in phase if visit.n]
    own_df = sum(visit.n - 1 for visit in visits)
    prior_df = setting("sd_prior_balls") if sd_prior is not None else 0.0
    df = own_df + prior_df
    own_squares = math.fsum(visit.squares for visit in visits)
    total = own_squares + prior_df * (sd_prior or 0.0) ** 2
    s_w = math.sqrt(total / df) if df else math.nan
    k_seen, k_df = _k_seen(phases, own_squares / own_df if own_df else math.nan)
    if fixed_k or k_seen is None:
        used = k
    else:
        weight = setting("k_prior_visits")
        used = math.sqrt((weight * k * k + k_df * k_seen**2) / (weight + k_df))
    return Components(s_w=s_w, s_b=used * s_w, k=used, df=df, k_seen=k_seen, k_df=k_df,
                      lag1=_lag_to_apply(visits))


def _k_seen(phases: Sequence[Sequence[Visit]], within: float) -> tuple[float | None, int]:
    """The day-to-shot ratio from the spread of visit means within phases, cut off at 0."""
    between = spread = 0.0
    df = 0
    for phase in phases:
        visits = [visit for visit in phase if visit.n]
        if len(visits) < 2:
            continue
        counts = [visit.n for visit in visits]
        total = sum(counts)
        centre = math.fsum(visit.n * visit.mean for visit in visits) / total
        between += math.fsum(visit.n * (visit.mean - centre) ** 2 for visit in visits)
        spread += total - sum(n * n for n in counts) / total
        df += len(visits) - 1
    if not df or not within > 0:
        return None, 0
    seen = max(0.0, (between - df * within) / spread)
    return math.sqrt(seen / within), df


def lag1(*, visits: Sequence[Visit]) -> float:
    """Return the ball-to-ball (lag 1) correlation, pooled over visits, in the order struck; NaN without pairs.

    Leans low by about 1/n in short visits, as every such estimate does.
    """
    product = math.fsum((a - visit.mean) * (b - visit.mean)
                        for visit in visits for a, b in zip(visit.balls, visit.balls[1:], strict=False))
    squares = math.fsum(visit.squares for visit in visits if visit.n > 1)
    return product / squares if squares > 0 else math.nan


def _lag_to_apply(visits: Sequence[Visit]) -> float:
    if sum(max(visit.n - 1, 0) for visit in visits) < MIN_PAIRS_FOR_LAG:
        return 0.0
    r = lag1(visits=visits)
    return min(r, 0.95) if r > setting("autocorrelation_limit") else 0.0


def effective_n(*, n: float, lag: float) -> float:
    """Return how many independent balls ``n`` correlated ones are worth: n (1 - r) / (1 + r), at least 1.

    lag: correlation 0 <= r < 1 (ValueError outside). Source: first-order autoregression, any textbook.
    """
    if not 0 <= lag < 1:
        raise ValueError(f"the correlation must lie in 0 <= r < 1, got {lag}")
    return max(n * (1 - lag) / (1 + lag), 1.0) if n else 0.0


def standard_error(*, parts: Components, before: Sequence[float], after: Sequence[float],
                   model_error: float = 0.0) -> float:
    """Return the SE of mean(after visits) - mean(before visits), each visit counted once.

    before, after: balls of each visit. SE^2 = s_b^2 (1/J_B + 1/J_F) + s_w^2 (sum(1/n)/J_B^2 + sum(1/n)/J_F^2)
    + model_error^2. The shot term is exact for unequal visits; model_error is an error common to a side
    (normalised carry), in the stored unit. Raises ValueError for a side without balls.
    """
    if not before or not after or min(*before, *after) < 1:
        raise ValueError("each side of a comparison needs at least one visit with a ball")
    days = shots = 0.0
    for counts in (before, after):
        days += 1 / len(counts)
        shots += sum(1 / effective_n(n=n, lag=parts.lag1) for n in counts) / len(counts) ** 2
    return math.sqrt(parts.s_b**2 * days + parts.s_w**2 * shots + model_error**2)


def minimum_detectable(*, se: float) -> float:
    """Return the change that would stand out at 95 %: 1.96 standard errors, in the unit of ``se``."""
    return Z95 * se


def change_between(*, before: Sequence[Visit], after: Sequence[Visit], parts: Components,
                   model_error: float = 0.0, level: float = 0.95) -> Change:
    """Return the change from the ``before`` visits to the ``after`` visits with its t interval at ``level``.

    The interval covers as stated where k is right; it takes the SD's own uncertainty in by Student's t with
    ``parts.df``. Each visit needs a ball (ValueError).
    """
    se = standard_error(parts=parts, before=[v.n for v in before], after=[v.n for v in after],
                        model_error=model_error)
    first, second = mean_of_visits(before), mean_of_visits(after)
    half = student_t_quantile(p=0.5 + level / 2, df=parts.df) * se if parts.df else math.nan
    delta = second - first
    return Change(before=first, after=second, delta=delta, se=se, lo=delta - half, hi=delta + half,
                  df=parts.df)


def same_day(parts: Components) -> Components:
    """Return the spreads for two blocks of one day: they share the day's effect, which cancels."""
    return Components(s_w=parts.s_w, s_b=0.0, k=0.0, df=parts.df, k_seen=parts.k_seen, k_df=parts.k_df,
                      lag1=parts.lag1)
