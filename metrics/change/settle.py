"""What would settle it: so many balls, so many visits, computed from the player's own spread."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from metrics.change.model import Components, minimum_detectable, standard_error
from metrics.change.settings import setting
from metrics.distributions import normal_cdf, normal_quantile

MOST_BALLS = 60
MOST_VISITS = 12
Target = Literal["likely", "established"]
Basis = Literal["seen", "window", "smallest"]


@dataclass(frozen=True, kw_only=True)
class Settle:
    """What it would take to reach ``target`` if further visits average ``assumed`` (stored unit, toward the goal).

    ``basis``: the change as seen, the way to the window, or the smallest worthwhile one. ``balls`` more in the
    latest visit (only where the change as seen is reckoned with), or ``visits`` more of ``balls_each``; None where
    no number of up to 60 balls or 12 visits would do. ``three_visits`` is what 3 more visits would have to average.
    """

    target: Target
    assumed: float
    basis: Basis
    balls: int | None
    visits: int | None
    balls_each: int
    three_visits: float


def to_settle(*, parts: Components, before: Sequence[int], after: Sequence[int], seen: float, assumed: float,
              basis: Basis, target: Target, swc: float, model_error: float = 0.0) -> Settle:
    """Return the further balls or visits that would bring the verdict to ``target``.

    before, after: balls of each visit, at least one visit each. seen: the change so far, toward the goal. assumed:
    what further visits average, at least ``swc`` (ValueError). "Established" needs two later visits in any case.
    """
    if not assumed >= swc - 1e-9:
        raise ValueError(f"what would settle a change needs one worth having: {assumed} is below {swc}")
    needed = normal_quantile(p=setting(f"p_{target}"))
    each = int(setting("planned_balls"))

    def to_reach(counts: Sequence[int]) -> float:
        se = standard_error(parts=parts, before=before, after=counts, model_error=model_error)
        return max(needed * se, swc) * (1 - 1e-9)

    def with_visits(more: int) -> bool:
        mean = (len(after) * seen + more * assumed) / (len(after) + more)
        return mean >= to_reach([*after, *[each] * more])

    balls = None
    # More balls in one visit never make two visits of it.
    if basis == "seen" and (target == "likely" or len(after) > 1):
        balls = next((m for m in _one_to(MOST_BALLS) if seen >= to_reach([*after[:-1], after[-1] + m])), None)
    visits = next((v for v in _one_to(MOST_VISITS) if with_visits(v)), None)
    three = ((len(after) + 3) * to_reach([*after, each, each, each]) - len(after) * seen) / 3
    return Settle(target=target, assumed=assumed, basis=basis, balls=balls, visits=visits, balls_each=each,
                  three_visits=three)


def _one_to(most: int) -> Sequence[int]:
    return range(1, most + 1)


@dataclass(frozen=True, kw_only=True)
class Design:
    """A plan of visits before and after a change, and what it can do: ``detectable`` stands out at 95 %.

    ``power`` is the chance that a true change of the wanted size is called established (likely, for one
    visit after).
    """

    visits_before: int
    visits_after: int
    balls_each: int
    detectable: float
    power: float


def design(*, s_w: float, k: float, wanted: float, visits_before: int, visits_after: int,
           balls_each: int | None = None) -> Design:
    """Return what a plan of visits can show for a true change ``wanted`` (same unit as the shot SD s_w > 0)."""
    each = balls_each or int(setting("planned_balls"))
    se = standard_error(parts=_planned(s_w, k), before=[each] * visits_before, after=[each] * visits_after)
    needed = normal_quantile(p=setting("p_established" if visits_after > 1 else "p_likely"))
    return Design(visits_before=visits_before, visits_after=visits_after, balls_each=each,
                  detectable=minimum_detectable(se=se), power=normal_cdf(z=wanted / se - needed))


def smallest_design(*, s_w: float, k: float, wanted: float, power: float = 0.8,
                    balls_each: int | None = None) -> Design | None:
    """Return the smallest plan with as many visits before as after (2 to 12) that reaches ``power``; None if none.

    Power 0.8, to the nearest point, is common practice. Beyond about 12 balls more visits help, not more balls.
    """
    plans = (design(s_w=s_w, k=k, wanted=wanted, visits_before=j, visits_after=j, balls_each=balls_each)
             for j in _one_to(MOST_VISITS) if j > 1)
    return next((plan for plan in plans if plan.power >= power - 0.005), None)


def _planned(s_w: float, k: float) -> Components:
    if not s_w > 0:
        raise ValueError(f"a plan needs a shot-to-shot spread above 0, got {s_w}")
    plain = Components(s_w=s_w, s_b=0.0, k=k, df=math.inf, k_seen=None, k_df=0, lag1=0.0)
    return replace(plain, s_b=k * s_w)
