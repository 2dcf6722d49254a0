"""One condition against one block: is the number past the limit, and is that certain or only likely?"""

import math
from dataclasses import dataclass, replace
from typing import Literal

from metrics.rules.estimates import estimate
from metrics.rules.limits import livable_window
from metrics.rules.pairs import Estimate
from metrics.rules.quantities import info
from metrics.rules.records import Library
from metrics.rules.route_records import Condition
from metrics.rules.setup_windows import wanted_window
from metrics.rules.types import BlockEvidence

EDGE = 1e-9
"""A value on its limit counts as past it, whatever the rounding of its sum."""
Status = Literal["missing", "spoilt", "no", "past"]


@dataclass(frozen=True, kw_only=True)
class Outcome:
    """What came of a condition.

    ``missing``: no column, call or setup number; ``spoilt``: there, but the wind makes it worthless; ``no``: not
    past the limit; ``past``: past it. ``certain`` where the whole 80 % interval is past it, ``strong`` where
    the value itself is past the strong limit. ``excess`` is how far past watch, in steps of strong − watch
    where both are known, else in standard errors; for ranking only.
    """

    condition: Condition
    status: Status
    estimate: Estimate | None = None
    watch: float | None = None
    certain: bool = False
    strong: bool = False
    excess: float = 0.0


def applies(condition: Condition, *, evidence: BlockEvidence) -> bool:
    """True where the condition is meant for this club and intent."""
    return ((not condition.clubs or evidence.club_category in condition.clubs)
            and (not condition.intents or evidence.intent in condition.intents))


def judge(condition: Condition, *, evidence: BlockEvidence, library: Library) -> Outcome:
    """Return the outcome of one condition for one block."""
    found = estimate(condition, evidence=evidence)
    if found is None or math.isnan(found.value):
        return Outcome(condition=condition, status="missing")
    survives = info(condition.quantity).survives_wind or condition.statistic == "setup"
    if evidence.wind.spoils_carry and not survives:
        return Outcome(condition=condition, status="spoilt", estimate=found)
    if condition.comparator in ("inside", "outside"):
        outcome = _ranged(condition, found, evidence, library)
    else:
        outcome = _past(condition, found, evidence, library)
    if condition.only_certain and outcome.status == "past" and not outcome.certain:
        return replace(outcome, status="no")
    return outcome


def _ranged(condition: Condition, found: Estimate, evidence: BlockEvidence, library: Library) -> Outcome:
    limits = limits_of(condition, evidence=evidence, library=library)
    if limits is None:
        return Outcome(condition=condition, status="missing")
    low, high = limits
    if condition.comparator == "inside":
        inside = low - EDGE <= found.value <= high + EDGE
        certain = found.lo >= low and found.hi <= high
        return Outcome(condition=condition, status="past" if inside else "no", estimate=found, certain=certain)
    inside = low + EDGE < found.value < high - EDGE
    watch = high if found.value > (low + high) / 2 else low
    certain = found.lo > high or found.hi < low
    beyond = max(found.value - high, low - found.value)
    return Outcome(condition=condition, status="no" if inside else "past", estimate=found, watch=watch,
                   certain=certain, excess=max(beyond, 0.0) / max(high - low, 1e-9))


def limits_of(condition: Condition, *, evidence: BlockEvidence, library: Library) -> tuple[float, float] | None:
    """Return low and high of an inside/outside condition, from the window where it says so."""
    if condition.relative_to == "window":
        livable = livable_window(condition.quantity, evidence=evidence)
        return livable or wanted_window(condition.quantity, evidence=evidence, library=library)
    assert condition.low is not None and condition.high is not None
    return condition.low, condition.high


def _past(condition: Condition, found: Estimate, evidence: BlockEvidence, library: Library) -> Outcome:
    base = _base(condition, evidence, library)
    if base is None:
        return Outcome(condition=condition, status="missing")
    assert condition.watch is not None
    sign = 1.0 if condition.comparator == "above" else -1.0
    watch = base + condition.watch
    strong = None if condition.strong is None else base + condition.strong
    return Outcome(
        condition=condition, estimate=found, watch=watch,
        status="past" if sign * (found.value - watch) >= -EDGE else "no",
        certain=_certain(condition, found, sign, watch),
        strong=strong is not None and sign * (found.value - strong) >= -EDGE,
        excess=_excess(found, sign, watch, strong),
    )


def _certain(condition: Condition, found: Estimate, sign: float, watch: float) -> bool:
    near = found.lo if sign > 0 else found.hi
    if condition.statistic == "aid_gap":
        return near > 0
    if condition.normal_share is not None:
        return near > condition.normal_share
    return not math.isnan(near) and sign * (near - watch) > 0


def _excess(found: Estimate, sign: float, watch: float, strong: float | None) -> float:
    beyond = sign * (found.value - watch)
    if strong is not None and strong != watch:
        return beyond / abs(strong - watch)
    half = (found.hi - found.lo) / 2
    return beyond / half if half > 0 and math.isfinite(half) else 0.0


def _base(condition: Condition, evidence: BlockEvidence, library: Library) -> float | None:
    if not condition.relative_to:
        return 0.0
    window = wanted_window(condition.quantity, evidence=evidence, library=library)
    if window is None:
        return None
    return window[1] if condition.relative_to == "window_top" else window[0]
