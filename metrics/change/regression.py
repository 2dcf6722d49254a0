"""Regression to the mean: what comes back by itself after a chosen bad or great day, and why a best is no mean."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

import numpy as np

from metrics.change.model import Components, standard_error
from metrics.change.question import Question
from metrics.change.visits import Visit, mean_of_visits
from metrics.change.words import Sentences, counted, shown

Statistic = Literal["mean", "median", "trimmed_mean", "best"]
FEWEST_VISITS = 3


def share_kept_same_day(*, n: int, k: float) -> float:
    """Return which part of a block's distance from the long mean the next block of that day keeps.

    r = k^2 / (k^2 + 1/n), 0..1: the day stays, the luck of n >= 1 balls goes. Raises ValueError outside.
    """
    if n < 1 or k < 0:
        raise ValueError(f"at least 1 ball and a day effect of 0 or more are needed, got {n} and {k}")
    return k * k / (k * k + 1 / n)


def expected_same_day(*, long_mean: float, seen: float, n: int, k: float) -> float:
    """Return what the next block of the same day should average if nothing is changed, unit of the inputs."""
    return long_mean + share_kept_same_day(n=n, k=k) * (seen - long_mean)


def shrunk_first_visit(*, seen: float, level_mean: float, s_level: float, n: int, s_w: float, k: float) -> float:
    """Return a new player's likely true mean after one visit: pulled toward the mean of players of that level.

    Weight of the visit: s_level^2 / (s_level^2 + (k s_w)^2 + s_w^2 / n), where s_level is the SD between players.
    One unit throughout; n >= 1, s_level and s_w > 0 (ValueError).
    """
    if n < 1 or not (s_level > 0 and s_w > 0):
        raise ValueError("one ball and spreads above 0 are needed")
    weight = s_level**2 / (s_level**2 + (k * s_w) ** 2 + s_w**2 / n)
    return level_mean + weight * (seen - level_mean)


@lru_cache(maxsize=256)
def luck_of_best(*, n: int) -> float:
    """Return by how many SDs the best of ``n`` balls beats the mean through luck alone (normal shots).

    The expected maximum of n standard normals, integrated numerically to 1e-6; n >= 1 (ValueError).
    """
    if n < 1:
        raise ValueError(f"a best needs at least 1 ball, got {n}")
    z = np.linspace(-9.0, 9.0, 4001)
    density = np.exp(-z * z / 2) / math.sqrt(2 * math.pi)
    below = np.array([0.5 * math.erfc(-x / math.sqrt(2)) for x in z])
    return float(np.sum(z * n * density * below ** (n - 1)) * (z[1] - z[0]))


@dataclass(frozen=True, kw_only=True)
class Headline:
    """One number said of a set of balls, with the statistic it is."""

    statistic: Statistic
    value: float
    n: int


def why_not_compare(*, before: Headline, after: Headline) -> str | None:
    """Return why two headlines must not be compared, or None where they may.

    A best is never compared with an average, nor with the best of another number of balls: more balls alone
    make a better best.
    """
    if before.statistic != after.statistic:
        return (f"A {_named(before)} cannot be compared with a {_named(after)}: the best of "
                f"{max(before.n, after.n)} is about {luck_of_best(n=max(before.n, after.n)):.1f} spreads better "
                "than the mean by luck alone." if "best" in (before.statistic, after.statistic) else
                f"A {_named(before)} cannot be compared with a {_named(after)}: use the same for both.")
    if before.statistic == "best" and before.n != after.n:
        return f"The best of {before.n} cannot be compared with the best of {after.n}: more balls make a better best."
    return None


def _named(headline: Headline) -> str:
    return f"best of {headline.n}" if headline.statistic == "best" else headline.statistic.replace("_", " ")


@dataclass(frozen=True, kw_only=True)
class Chosen:
    """A visit that was picked because it was extreme: what returns by itself, in the stored unit.

    ``expected`` is the mean of the player's other visits, ``returns`` how much of the gap to it (toward the goal:
    positive) the next visit makes up or loses whatever is taught.
    """

    kind: Literal["worst", "best"]
    expected: float
    returns: float
    coach: Sentences
    student: Sentences


def chosen_visit(*, question: Question, chosen: Visit, others: Sequence[Visit], parts: Components) -> Chosen | None:
    """Return what to say where ``chosen`` is the worst or the best of at least 3 like visits, else None.

    Worst and best by distance from the window (or the wanted direction); said only where the visit is further from
    the mean of the others than one standard error, so that ordinary days pass in silence. Day effects do not carry
    over: expect the next visit near the long mean. Every visit needs a ball (ValueError).
    """
    if len(others) + 1 < FEWEST_VISITS:
        return None
    expected = mean_of_visits(others)
    se = standard_error(parts=parts, before=[v.n for v in others], after=[chosen.n])
    gaps = [_badness(question, visit.mean) for visit in others]
    own = _badness(question, chosen.mean)
    if abs(chosen.mean - expected) <= se or min(gaps) <= own <= max(gaps):
        return None
    kind: Literal["worst", "best"] = "worst" if own > max(gaps) else "best"
    returns = own - _badness(question, expected)
    count = len(others) + 1
    size = shown(abs(returns), question=question)
    back, student_reason = {
        "worst": (f"about {size} would come back by itself",
                  "That was an unusual day. Part of it gets better by itself."),
        "best": (f"about {size} will go again by itself",
                 "That was an unusually good day. Enjoy it; the next may be closer to normal."),
    }[kind]
    coach = Sentences(
        verdict=f"Chosen on the {kind} of {counted(count, noun='visit')}",
        reason=(f"{shown(chosen.mean, question=question, signed=True)} that day, "
                f"{shown(expected, question=question, signed=True)} on the others: {back}, whatever is taught."),
        next_step="Compare with the mean of the earlier visits, not with this day alone.")
    student = Sentences(verdict="One day is one day", reason=student_reason, next_step="We look at several visits.")
    return Chosen(kind=kind, expected=expected, returns=returns, coach=coach, student=student)


def _badness(question: Question, value: float) -> float:
    """Distance from the window or, with only a direction to go, how far the wrong way."""
    if question.goal.window is not None:
        return question.goal.window.distance(value)
    return -value * (question.goal.upward or 0)
