"""What a hint does not say: where luck alone could have made it, and how to say so."""

from metrics.intervals import sd_interval, wilson_interval
from metrics.rules.conditions import Outcome
from metrics.rules.evidence import sentence
from metrics.rules.limits import sd_prior_of
from metrics.rules.states import PatternResult, RouteResult
from metrics.rules.types import BlockEvidence
from metrics.rules.words import amount, balls, fill

CHANCE_LEVEL = 0.96
"""A spread or a rate stands out where this interval lies past the usual value: luck alone brings a player at the
usual value there in about one block of fifty. A choice: many patterns look at every block."""
_SPREADS = ("sd", "sd_over_prior", "cv", "cv_over_prior")


def may_be_chance(result: PatternResult, *, evidence: BlockEvidence) -> bool:
    """True for a hint that rests on a spread or a rate alone which a player at the usual value shows by luck.

    Not for one met on an earlier visit: luck seldom comes twice. An average past its limit is never called chance
    here: the balls were struck so today, whatever the next visit says.
    """
    met = any(e.pattern == result.pattern.slug for e in evidence.earlier)
    alive = [r for r in result.routes if r.state != "silent"]
    return result.state == "hint" and not met and all(_lucky(r, evidence) for r in alive)


def _lucky(route: RouteResult, evidence: BlockEvidence) -> bool:
    triggers = [o for o in route.outcomes if o.condition.role == "trigger"]
    return all(_near_usual(o, evidence) for o in triggers)


def _near_usual(outcome: Outcome, evidence: BlockEvidence) -> bool:
    """True where the usual value is known and lies inside the interval at ``CHANCE_LEVEL``."""
    usual, found = _usual(outcome, evidence), outcome.estimate
    if usual is None or found is None:
        return False
    if outcome.condition.statistic in _SPREADS:
        low, _ = sd_interval(sd=found.value, n=found.n, level=CHANCE_LEVEL)
    else:
        low, _ = wilson_interval(successes=round(found.value * found.n), trials=found.n, level=CHANCE_LEVEL)
    return low <= usual


def _usual(outcome: Outcome, evidence: BlockEvidence) -> float | None:
    """The value of a player without the fault, in the statistic's own unit; None where none is kept."""
    condition = outcome.condition
    if condition.statistic.endswith("over_prior"):
        return 1.0
    if condition.statistic in _SPREADS:
        return sd_prior_of(condition.quantity, evidence=evidence)
    return condition.normal_share


def watching(result: PatternResult, *, evidence: BlockEvidence) -> str:
    """Return the line for a hint that is not shown as a finding because luck could have made it."""
    assert result.best is not None
    trigger = next(o for o in result.best.outcomes if o.condition.role == "trigger")
    more = f"{balls(result.best.short_by)} more decide" if result.best.short_by else "the next block decides"
    return (f"{fill(result.pattern.title, hand=evidence.hand)}. {sentence(trigger, evidence=evidence)}. Luck alone "
            f"brings this now and then to a player without the fault; {more}.")


def caveat(result: PatternResult, *, evidence: BlockEvidence) -> str:
    """Return in one sentence why a finding is only a hint, or an empty text where it is supported."""
    best = result.best
    if result.state != "hint" or best is None:
        return ""
    if best.route.ceiling == "hint":
        by = "called by eye" if best.route.kind == "calls" else "seen without the path"
        return f"Only a hint: this was {by}. Numbers, or two setup checks outside their windows, would support it."
    if best.short_by:
        return (f"Only a hint: {balls(best.n)} so far, and this is judged from {best.route.minimum_n} on. With so few "
                "it may be chance.")
    unsure = next((o for o in best.outcomes if o.condition.role == "trigger" and not o.certain), None)
    return _reaches(unsure) if unsure else ""


def _reaches(outcome: Outcome) -> str:
    found, condition = outcome.estimate, outcome.condition
    assert found is not None
    if condition.statistic == "setup" and outcome.watch is not None:
        return _setup_reaches(outcome)
    if condition.statistic != "mean" or outcome.watch is None:
        return "Only a hint: with these few balls it may be chance."
    ends = [amount(condition.quantity, value=v) for v in (found.lo, found.hi)]
    limit = amount(condition.quantity, value=outcome.watch)
    return (f"Only a hint: the true average lies somewhere from {ends[0]} to {ends[1]} (8 times in 10), and that "
            f"still reaches the limit of {limit}. It may be chance.")


def _setup_reaches(outcome: Outcome) -> str:
    """A setup number is one look, not an average: what doubts it is how well such a look can be read."""
    found = outcome.estimate
    assert found is not None and outcome.watch is not None
    good_to, limit = (amount(outcome.condition.quantity, value=v) for v in (found.hi - found.value, outcome.watch))
    return (f"Only a hint: one look at the setup is good to about ±{good_to}, and that still reaches the limit of "
            f"{limit}. Look at it again.")
