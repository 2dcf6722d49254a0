"""Outcomes turned into evidence a person can read and a picture can draw."""

import math

from metrics.rules.assessment import Evidence
from metrics.rules.conditions import Outcome
from metrics.rules.limits import intent_window, usual_window
from metrics.rules.pairs import Estimate
from metrics.rules.quantities import info
from metrics.rules.route_records import CallMatch, Condition
from metrics.rules.types import BlockEvidence, Hand
from metrics.rules.words import amount, directed, fill, number, span, unit_suffix

_START = {-1: "starts {hook_side}", 0: "starts on line", 1: "starts {slice_side}"}
_CURVE = {-2: "curves hard {hook_side}", -1: "curves {hook_side}", 0: "flies straight",
          1: "curves {slice_side}", 2: "curves hard {slice_side}"}
_CONTACT = {"fat": "ground first", "thin": "thin", "top": "topped", "sky": "off the top edge",
            "heel": "off the heel", "toe": "off the toe", "shank": "off the hosel", "clean": "clean"}


def evidence_of(outcome: Outcome, *, evidence: BlockEvidence) -> Evidence | None:
    """Return one line of evidence, or None where the outcome has no number."""
    found, condition = outcome.estimate, outcome.condition
    if found is None:
        return None
    about = info(condition.quantity)
    interval = None if math.isnan(found.lo) or math.isnan(found.hi) else (found.lo, found.hi)
    return Evidence(
        quantity=condition.quantity, label=about.label, unit=_unit(condition, about.unit),
        statistic=condition.statistic, mean=found.value, n=found.n,
        sd=None if found.sd is None or math.isnan(found.sd) else found.sd,
        lo=interval[0] if interval else None, hi=interval[1] if interval else None,
        window=wanted(condition, evidence=evidence), threshold=outcome.watch, measured=found.measured,
        sentence=sentence(outcome, evidence=evidence),
    )


def wanted(condition: Condition, *, evidence: BlockEvidence) -> tuple[float, float] | None:
    """Return the window a mean is wanted in: the intent's, else the usual range for the club, else None."""
    if condition.statistic != "mean":
        return None
    return usual_window(condition.quantity, evidence=evidence)


def sentence(outcome: Outcome, *, evidence: BlockEvidence) -> str:
    """Return the outcome in one plain sentence, with number, unit and n."""
    found, condition = outcome.estimate, outcome.condition
    assert found is not None
    text = _sentence(condition, found, outcome.watch, evidence)
    if outcome.status == "spoilt":
        text += " (not judged: wind)"
    if found.left_out:
        text += f", {found.left_out} {'mishit' if found.left_out == 1 else 'mishits'} left out"
    return text + (", inferred from start direction and path" if found.inferred else "")


def _sentence(c: Condition, found: Estimate, watch: float | None, evidence: BlockEvidence) -> str:
    about, hand, q = info(c.quantity), evidence.hand, c.quantity
    match c.statistic:
        case "mean":
            limits = _limit_words(c, watch, evidence)
            return (f"{about.label} averaged {directed(q, value=found.value, hand=hand)} ± "
                    f"{_spread(found.sd, about.digits)}{unit_suffix(about.unit)} over {found.n} balls{limits}")
        case "mean_abs":
            return f"{about.label} averaged {amount(q, value=found.value)} either way over {found.n} balls"
        case "sd":
            return f"{about.label} varied by {amount(q, value=found.value)} (SD, {found.n} balls)"
        case "cv":
            return f"{about.label} varied by {number(found.value, digits=1)}% of its mean ({found.n} balls)"
        case "sd_over_prior" | "cv_over_prior":
            return (f"{about.label} varied {number(found.value, digits=1)} times as much as is usual at this "
                    f"level ({found.n} balls)")
        case "minus_own_median":
            return (f"{about.label} was {amount(q, value=found.value, sign=True)} against your own usual "
                    f"({found.n} balls)")
        case "percent_of_own_median":
            return f"{about.label} was {number(found.value, digits=0)}% of your own usual ({found.n} balls)"
        case "share" | "both_sides":
            return _share_sentence(c, found, hand)
        case "setup":
            return f"{about.label} {directed(q, value=found.value, hand=hand)}"
        case "change":
            return f"{about.label} moved by {amount(q, value=found.value, sign=True)} after the ball was moved"
        case "drift":
            moved = amount(q, value=found.value, sign=True)
            return f"{about.label} moved by {moved} from the first ten to the last ten"
        case "aid_gap":
            return (f"{about.label} lies {amount(q, value=found.value)} further from the window without the aids "
                    f"than with them ({found.n} balls each)")
        case "lie_from_starts":
            return (f"start line drifts with loft across {found.n} clubs as if the lie were "
                    f"{number(abs(found.value), digits=1)}° too {'flat' if found.value > 0 else 'upright'}")
        case "given_back":
            return f"{number(found.value, digits=0)}% of the gain in {about.label.lower()} was gone at the next visit"


def _spread(sd: float | None, digits: int) -> str:
    return "?" if sd is None or math.isnan(sd) else number(sd, digits=digits)


def _limit_words(c: Condition, watch: float | None, evidence: BlockEvidence) -> str:
    window = intent_window(c.quantity, evidence=evidence)
    if window:
        return f" (wanted {span(c.quantity, limits=window)})"
    if c.comparator in ("inside", "outside"):
        limits = None if c.low is None or c.high is None else (c.low, c.high)
        return f" (looked for {span(c.quantity, limits=limits)})" if limits else ""
    return f" (looked at from {amount(c.quantity, value=watch)})" if watch is not None else ""


def _share_sentence(c: Condition, found: Estimate, hand: Hand) -> str:
    hits = round(found.value * found.n)
    if c.calls is not None:
        return f"{hits} of {found.n} called: {fill(call_words(c.calls), hand=hand)}"
    assert c.cut is not None
    if c.statistic == "both_sides":
        return f"at least {hits} of {found.n} balls beyond {amount(c.quantity, value=c.cut)} on each side"
    side = "or more" if c.cut_side == "above" else "or less"
    return f"{hits} of {found.n} balls: {info(c.quantity).label.lower()} {amount(c.quantity, value=c.cut)} {side}"


def call_words(match: CallMatch) -> str:
    """Return a match of called balls in words, with the placeholders for left and right still in it."""
    parts = [" or ".join(_START[s] for s in match.start), _curve_words(match.curve),
             " or ".join(f"{h} flight" for h in match.height),
             " or ".join(_CONTACT[c] for c in match.contact)]
    if match.done is not None:
        parts.append("did the job" if match.done else "did not do the job")
    return ", ".join(part for part in parts if part)


def _curve_words(curve: tuple[int, ...]) -> str:
    if curve and all(c < 0 for c in curve):
        return "curves {hook_side}"
    if curve and all(c > 0 for c in curve):
        return "curves {slice_side}"
    return " or ".join(_CURVE[c] for c in curve)


def _unit(c: Condition, unit: str) -> str:
    if c.statistic in ("share", "both_sides"):
        return "share of balls"
    if c.statistic in ("cv", "percent_of_own_median", "given_back"):
        return "%"
    return "× usual" if c.statistic.endswith("over_prior") else unit
