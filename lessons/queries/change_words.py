"""The one change in words: from where to where, what it should do, and what shows that it went too far."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from metrics.checkpoints import CHECKPOINTS
from metrics.rules.assessment import Assessment, CheckShown, Finding
from metrics.rules.predict import effect_words
from metrics.rules.quantities import info
from metrics.rules.types import Hand
from metrics.rules.words import directed


@dataclass(frozen=True, kw_only=True)
class Proposal:
    """What the first check outside its window proposes. ``expected`` by quantity: the range of change, in the
    quantity's own unit; an effect that is known as a share only is said and not followed."""

    pattern: str
    checkpoint: str
    title: str
    change: str
    stop_sign: str
    value_from: float
    value_to: float
    expected: dict[str, list[float]] = field(default_factory=dict)
    effects: tuple[str, ...] = ()
    then: str = ""


def propose(assessment: Assessment, *, hand: Hand, prefer: str = "") -> Proposal | None:
    """Return the change that the first check outside its window asks for; ``prefer`` names a confirmed pattern."""
    return next(iter(proposals(assessment, hand=hand, prefer=prefer)), None)


def proposals(assessment: Assessment, *, hand: Hand, prefer: str = "") -> list[Proposal]:
    """Return one proposal for every check outside its window, in the order to try them, each checkpoint once."""
    findings = sorted(assessment.findings, key=lambda finding: finding.pattern != prefer)
    found: dict[str, Proposal] = {}
    for finding in findings:
        for check in finding.checks:
            if check.outside and check.checkpoint in CHECKPOINTS and check.window is not None:
                found.setdefault(check.checkpoint, _proposal(finding, check, hand))
    return list(found.values())


def _proposal(finding: Finding, check: CheckShown, hand: Hand) -> Proposal:
    assert check.value is not None and check.window is not None
    goal = check.window[1] if check.value > check.window[1] else check.window[0]
    begin, end = (directed(check.checkpoint, value=value, hand=hand) for value in (check.value, goal))
    return Proposal(
        pattern=finding.pattern, checkpoint=check.checkpoint, title=check.title,
        change=f"{check.title}: from {begin} to {end}", stop_sign=_sentence(check.over_doing),
        value_from=check.value, value_to=goal, effects=tuple(effect.sentence for effect in check.effects),
        expected={effect.quantity: [round(effect.low, 3), round(effect.high, 3)] for effect in check.effects
                  if effect.unit == info(effect.quantity).unit},
        then=CHECKPOINTS[check.then_check].label.lower() if check.then_check else "",
    )


def _sentence(words: str) -> str:
    return words[:1].upper() + words[1:200]


def expected_of(offered: list[Proposal], chosen: Mapping[str, Any]) -> dict[str, list[float]]:
    """Return what a chosen change should do: the proposal's effects, in proportion to the move that was chosen."""
    offer = next((offer for offer in offered if offer.checkpoint == chosen["checkpoint"]), None)
    if offer is None or chosen["value_from"] is None or chosen["value_to"] is None:
        return {}
    share = (chosen["value_to"] - chosen["value_from"]) / (offer.value_to - offer.value_from)
    return {quantity: [round(edge, 3) for edge in sorted(edge * share for edge in edges)]
            for quantity, edges in offer.expected.items()}


def expected_words(expected: Mapping[str, list[float]], *, hand: Hand) -> list[str]:
    """Return in words what a change that was made should do."""
    return [effect_words(quantity=quantity, low=edges[0], high=edges[1], unit=info(quantity).unit, hand=hand)
            for quantity, edges in (expected or {}).items()]
