"""From conditions to states: supported, hint or silent, for every way a pattern can be seen."""

from dataclasses import dataclass, field, replace

from metrics.change.priors import setting
from metrics.rules.assessment import State, Strength
from metrics.rules.conditions import Outcome, applies, judge
from metrics.rules.records import Library, Pattern
from metrics.rules.route_records import Route
from metrics.rules.setup_checks import check_states, linked_outside
from metrics.rules.types import BlockEvidence

RAISING_CHECKS = 2
"""Linked checks outside their windows that raise a hint by one step."""


def min_shown() -> int:
    """Return the balls below which no mean is shown and nothing is concluded from numbers. Common practice."""
    return int(setting("balls_to_show"))


@dataclass(frozen=True, kw_only=True)
class RouteResult:
    """One route against one block. ``short_by`` is how many more balls it needs; ``missing`` what it lacks."""

    route: Route
    state: State
    outcomes: tuple[Outcome, ...] = ()
    n: int = 0
    short_by: int = 0
    missing: tuple[str, ...] = ()
    spoilt: tuple[str, ...] = ()
    unresolved: str = ""


@dataclass(frozen=True, kw_only=True)
class PatternResult:
    """One pattern against one block, before anything is chosen for showing."""

    pattern: Pattern
    state: State
    strength: Strength
    best: RouteResult | None
    routes: tuple[RouteResult, ...] = field(default=())
    raised_by_setup: bool = False
    excess: float = 0.0
    comes_first: bool = False


def judge_pattern(pattern: Pattern, *, evidence: BlockEvidence, library: Library) -> PatternResult:
    """Return state, strength and the route that carries it. A silent pattern keeps its routes for the reasons."""
    routes = tuple(judge_route(r, evidence=evidence, library=library)
                   for r in pattern.routes if _route_applies(r, evidence))
    alive = [r for r in routes if r.state != "silent"]
    if not alive:
        return PatternResult(pattern=pattern, state="silent", strength="watch", best=None, routes=routes)
    best = max(alive, key=lambda r: (r.route.comes_first, r.state == "supported", _excess(r)))
    state: State = "supported" if any(r.state == "supported" for r in alive) else "hint"
    raised = state == "hint" and _setup_agrees(pattern, best, evidence, library)
    strong = any(o.strong for r in alive for o in r.outcomes if o.condition.role == "trigger")
    return PatternResult(
        pattern=pattern, state="supported" if raised else state, strength="strong" if strong else "watch",
        best=best, routes=routes, raised_by_setup=raised, excess=_excess(best),
        comes_first=any(r.route.comes_first for r in alive),
    )


def _route_applies(route: Route, evidence: BlockEvidence) -> bool:
    return ((not route.clubs or evidence.club_category in route.clubs)
            and (not route.intents or evidence.intent in route.intents)
            and any(applies(c, evidence=evidence) for c in route.conditions if c.role == "trigger"))


def _excess(result: RouteResult) -> float:
    triggers = [o.excess for o in result.outcomes if o.condition.role == "trigger"]
    return min(triggers) if triggers else 0.0


def _setup_agrees(pattern: Pattern, best: RouteResult, evidence: BlockEvidence, library: Library) -> bool:
    """Two or more linked checks outside; a setup number that made the hint itself does not count again."""
    used = frozenset(o.condition.quantity for o in best.outcomes if o.condition.statistic == "setup")
    return linked_outside(check_states(pattern, evidence=evidence, library=library), without=used) >= RAISING_CHECKS


def judge_route(route: Route, *, evidence: BlockEvidence, library: Library) -> RouteResult:
    """Return the state of one route: every trigger and discriminator must be past its limit."""
    outcomes = tuple(judge(c, evidence=evidence, library=library)
                     for c in route.conditions if applies(c, evidence=evidence))
    needed = [o for o in outcomes if o.condition.role in ("trigger", "discriminator")]
    vetoed = any(o.condition.role == "veto" and o.status == "past" for o in outcomes)
    missing = tuple(o.condition.quantity for o in needed if o.status == "missing")
    spoilt = tuple(o.condition.quantity for o in needed if o.status == "spoilt")
    known = [o for o in needed if o.status in ("past", "no")]
    # A mishit was struck too: it counts toward the balls needed, though not toward the average.
    counted = [o.estimate.n + o.estimate.left_out for o in known if o.estimate and o.condition.statistic != "setup"]
    n = min(counted, default=0)
    short_by = max(route.minimum_n - n, 0) if counted else 0
    base = RouteResult(route=route, state="silent", outcomes=outcomes, n=n, short_by=short_by,
                       missing=missing, spoilt=spoilt)
    if vetoed or any(o.status == "no" for o in known) or (counted and n < max(min_shown(), route.hint_n)):
        return base
    if missing or spoilt:
        return replace(base, unresolved=next((o.condition.unresolved for o in known if o.condition.unresolved), ""))
    return replace(base, state=_state(route, needed, short_by))


def _state(route: Route, needed: list[Outcome], short_by: int) -> State:
    certain = all(o.certain for o in needed if o.condition.role == "trigger")
    return "supported" if certain and not short_by and route.ceiling == "supported" else "hint"
