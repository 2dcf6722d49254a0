"""Two runs of one test: the difference with its interval, and a word that claims no more than two days can."""

import math
from dataclasses import dataclass
from typing import Literal

from metrics.distributions import student_t_quantile
from metrics.shortgame.figures import Figure
from metrics.spread import rate, rate_change

Word = Literal["better", "worse", "different", "can't tell"]
_Z = 1.959963984540054


@dataclass(frozen=True, kw_only=True)
class RunChange:
    """After minus before (for spreads after ÷ before) with 95 % interval. ``word`` speaks of these two days only:
    the day's own effect is not in the interval, so a second repeat has to say whether it held."""

    value: float
    lo: float
    hi: float
    is_ratio: bool
    word: Word


def compare(*, before: Figure, after: Figure) -> RunChange | None:
    """Return the change of one figure from one run to the next; None for medians and where there are too few balls:
    10 a side for shares, 5 for the rest.

    Shares: ``metrics.spread.rate_change``. Means: Welch. Spreads: ln ratio ± 1.96 √(1/2f₁ + 1/2f₂). Raises
    ValueError where the two are not the same figure.
    """
    if (before.key, before.target_m) != (after.key, after.target_m):
        raise ValueError(f"{before.key} at {before.target_m} cannot be compared with {after.key} at {after.target_m}")
    if before.form == "median" or min(before.n, after.n) < 5:
        return None
    if before.form == "share":
        return _shares(before, after)
    return _means(before, after) if before.form == "mean" else _spreads(before, after)


def _shares(before: Figure, after: Figure) -> RunChange | None:
    found = rate_change(before=rate(successes=before.hits, trials=before.n),
                        after=rate(successes=after.hits, trials=after.n))
    if found.word == "too_few":
        return None
    word: Word = "can't tell" if found.word == "cannot_tell" else _word(found.lo, found.hi, 0.0, after.more_is_better)
    return RunChange(value=found.difference, lo=found.lo, hi=found.hi, is_ratio=False, word=word)


def _means(before: Figure, after: Figure) -> RunChange:
    v1, v2 = before.sd**2 / before.n, after.sd**2 / after.n
    gap = after.value - before.value
    if v1 + v2 == 0:
        return RunChange(value=gap, lo=gap, hi=gap, is_ratio=False, word=_word(gap, gap, 0.0, after.more_is_better))
    df = (v1 + v2) ** 2 / (v1**2 / (before.n - 1) + v2**2 / (after.n - 1))
    half = student_t_quantile(p=0.975, df=df) * math.sqrt(v1 + v2)
    return RunChange(value=gap, lo=gap - half, hi=gap + half, is_ratio=False,
                     word=_word(gap - half, gap + half, 0.0, after.more_is_better))


def _spreads(before: Figure, after: Figure) -> RunChange | None:
    if not before.value > 0 or not after.value > 0:
        return None
    middle = math.log(after.value / before.value)
    half = _Z * math.sqrt(1 / (2 * (before.n - 1)) + 1 / (2 * (after.n - 1)))
    lo, hi = math.exp(middle - half), math.exp(middle + half)
    word = _word(lo, hi, 1.0, after.more_is_better)
    return RunChange(value=math.exp(middle), lo=lo, hi=hi, is_ratio=True, word=word)


def _word(lo: float, hi: float, none: float, more_is_better: bool | None) -> Word:
    if lo <= none <= hi:
        return "can't tell"
    if more_is_better is None:
        return "different"
    return "better" if (lo > none) == more_is_better else "worse"
