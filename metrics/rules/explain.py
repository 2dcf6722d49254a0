"""The reasons in words: why this, why not that, what would change its mind, what is still needed."""

import math

from metrics.rules.assessment import CheckShown
from metrics.rules.conditions import Outcome
from metrics.rules.evidence import sentence
from metrics.rules.limits import intent_window
from metrics.rules.quantities import info
from metrics.rules.states import PatternResult, RouteResult
from metrics.rules.types import BlockEvidence
from metrics.rules.words import amount, balls, directed, fill, joined, span

CLUB_WORDS = {"driver": "the driver", "fairway": "the fairway wood", "hybrid_long_iron": "the hybrid or long iron",
              "mid_iron": "the mid iron", "short_iron": "the short iron", "wedge_full": "the full wedge",
              "pitch": "the pitch", "chip": "the chip", "sand": "the sand shot", "putter": "the putter"}
MANY_BALLS = 40


def explanation(result: PatternResult, *, checks: tuple[CheckShown, ...], evidence: BlockEvidence) -> str:
    """Return the whole reasoning of a finding as one short paragraph."""
    pattern = result.pattern
    parts = [_opening(result, evidence), _looking_down(checks, evidence),
             f"Why: {fill(pattern.mechanism, hand=evidence.hand)}.", _prediction(checks),
             f"Gone too far if: {fill(pattern.over_correction.text, hand=evidence.hand)}.",
             f"How we find out: {fill(pattern.retest.text, hand=evidence.hand)}; for sure only at the next visit."]
    return " ".join(part for part in parts if part)


def _opening(result: PatternResult, evidence: BlockEvidence) -> str:
    assert result.best is not None
    count = evidence.count
    seen = [_lower(sentence(o, evidence=evidence).replace(f" over {count} balls", ""))
            for o in result.best.outcomes
            if o.estimate is not None and o.condition.role in ("trigger", "discriminator")]
    aids = "no aids" if not evidence.aids else "with " + joined(list(evidence.aids))
    start = "A hint, not settled: in" if result.state == "hint" else "In"
    balls_with = f"{balls(count)} with" if count else "the setup for"
    return f"{start} {balls_with} {CLUB_WORDS[evidence.club_category]}, {aids}: {'; '.join(seen)}."


def _looking_down(checks: tuple[CheckShown, ...], evidence: BlockEvidence) -> str:
    seen = [f"your {_lower(c.title)} is {directed(c.checkpoint, value=c.value, hand=evidence.hand)} "
            f"(window {span(c.checkpoint, limits=c.window)})"
            for c in checks if c.value is not None and c.window is not None]
    return f"In the setup {joined(seen)}." if seen else ""


def _prediction(checks: tuple[CheckShown, ...]) -> str:
    for check in checks:
        if check.effects:
            effects = joined([_lower(effect.sentence) for effect in check.effects])
            return f"Bringing the {_lower(check.title)} to the near edge of its window should change: {effects}."
    return ""


def _lower(text: str) -> str:
    return text[:1].lower() + text[1:]


def own_goal(evidence: BlockEvidence) -> str:
    """Return the goal in the player's own shape: a wanted draw or fade is kept, not straightened."""
    window = intent_window("club_path_deg", evidence=evidence)
    if window is None or evidence.club_category == "putter":
        return ""
    goal = f"path {span('club_path_deg', limits=window)}"
    if evidence.intent == "straight":
        return f"Goal for a straight ball: {goal}."
    return f"The {evidence.intent} is kept: goal {goal}, not 0."


def would_change(result: PatternResult, *, evidence: BlockEvidence) -> str:
    """Return what evidence would change the finding."""
    best = result.best
    assert best is not None
    if best.short_by:
        return f"{best.short_by} more {'ball decides' if best.short_by == 1 else 'balls decide'} whether this is more \
than a hint."
    trigger = next((o for o in best.outcomes if o.condition.role == "trigger" and o.estimate), None)
    if trigger is None or trigger.watch is None:
        return "A look at the setup with other numbers would change this."
    limit = amount(trigger.condition.quantity, value=trigger.watch)
    if trigger.condition.statistic in ("share", "both_sides"):
        return f"Fewer than {trigger.watch:.0%} of the next ten balls like this would drop it."
    if result.state == "supported":
        return f"A mean on the near side of {limit} in the next block without aids would drop it."
    return _more_balls(trigger, limit)


def _more_balls(trigger: Outcome, limit: str) -> str:
    found = trigger.estimate
    assert found is not None and trigger.watch is not None
    gap = abs(found.value - trigger.watch)
    if found.sd is None or math.isnan(found.sd) or trigger.certain:
        return "Numbers from a device, or two setup checks outside their windows, would settle it."
    wanted = math.inf if gap == 0 else (1.33 * found.sd / gap) ** 2
    if wanted > MANY_BALLS:
        return f"The mean lies too close to {limit} for more balls today to settle it; the next visit will."
    more = max(math.ceil(wanted) - found.n, 2)
    return f"About {more} more balls like these would settle it; the interval still reaches {limit}."


def silent_reason(result: PatternResult, *, evidence: BlockEvidence) -> str:
    """Return in one sentence why a pattern says nothing."""
    if not result.routes:
        return "not looked for with this club and intent"
    for route in result.routes:
        failing = next((o for o in route.outcomes if _stops(o)), None)
        if failing:
            return sentence(failing, evidence=evidence)
    spoilt = [q for route in result.routes for q in route.spoilt]
    if spoilt:
        return f"{info(spoilt[0]).label} is not judged in this wind"
    missing = [q for route in result.routes for q in route.missing]
    if missing:
        return f"{info(missing[0]).label} is not logged"
    return "not enough balls yet"


def _stops(outcome: Outcome) -> bool:
    """True where this outcome alone keeps its route silent."""
    role = outcome.condition.role
    return outcome.status == ("past" if role == "veto" else "no") and role != "support"


def near_miss(results: list[PatternResult], *, shown: list[PatternResult],
              evidence: BlockEvidence) -> PatternResult | None:
    """Return the silent pattern that shares a trigger past its limit with what is shown, if there is one."""
    groups = {r.pattern.group for r in shown}
    for result in results:
        if result.state == "silent" and result.pattern.group in groups and any(_half_seen(r) for r in result.routes):
            return result
    return None


def _half_seen(route: RouteResult) -> bool:
    past = any(o.status == "past" for o in route.outcomes if o.condition.role == "trigger")
    return past and any(o.status == "no" for o in route.outcomes if o.condition.role != "support")
