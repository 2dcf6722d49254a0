"""Which findings are shown, and in what order to read them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from metrics.rules.doubt import may_be_chance
from metrics.rules.records import GROUPS
from metrics.rules.states import PatternResult
from metrics.rules.types import BlockEvidence

MAX_SHOWN = 2
GATE_INDEX = 28.0
"""Above this handicap index only contact, aim and setup are worked on. Common practice."""
GATE_CLEAN = 0.70
"""Below this share of clean contacts too. Common practice."""
GATED_GROUPS = frozenset({"contact", "aim"})
MOVED_FIRST = "look first at what moved with the ball: these balls may only show that"
BY_CHANCE = "luck alone could have made this: listed to be watched, not as a finding"
SEEN_AGAIN_VISITS = 1
"""A pattern met on this many earlier visits is now seen at least twice, and outranks one seen once."""


@dataclass(frozen=True, kw_only=True)
class Ranked:
    """What is shown, in reading order, what is only watched, and for everything else alive why it is not shown."""

    shown: tuple[PatternResult, ...]
    watched: tuple[PatternResult, ...]
    why_not: Mapping[str, str]


def clean_share(evidence: BlockEvidence) -> float | None:
    """Return the share of called contacts that were clean, or None where fewer than five were called."""
    called = [call.contact for call in evidence.calls if call.contact is not None]
    return called.count("clean") / len(called) if len(called) >= 5 else None


def level_gate(evidence: BlockEvidence) -> str:
    """Return why only contact, aim and setup count today, or an empty text."""
    if evidence.handicap_index is not None and evidence.handicap_index > GATE_INDEX:
        return f"index {evidence.handicap_index:g}: contact, aim and setup come first"
    clean = clean_share(evidence)
    if clean is not None and clean < GATE_CLEAN:
        return f"{clean:.0%} clean contact: contact, aim and setup come first"
    return ""


def rank(results: Sequence[PatternResult], *, evidence: BlockEvidence) -> Ranked:
    """Choose at most two findings. Nothing silent is ever shown, and what luck could have made is only watched.

    Chosen first: what follows a setup change just made, then supported before hint, then contact, aim, face,
    path, speed; within a group what was met on earlier visits, then what lies furthest out. Read in the order
    of the groups.
    """
    alive = [r for r in results if r.state != "silent"]
    lucky = {r.pattern.slug for r in alive if may_be_chance(r, evidence=evidence)}
    why_not = _set_aside(alive, evidence, lucky)
    watched = [r for r in alive if r.pattern.slug in lucky - why_not.keys()]
    why_not |= {r.pattern.slug: BY_CHANCE for r in watched}
    left = sorted((r for r in alive if r.pattern.slug not in why_not), key=lambda r: _choice_key(r, evidence))
    chosen, rest = left[:MAX_SHOWN], left[MAX_SHOWN:]
    for result in rest:
        why_not[result.pattern.slug] = "two things are enough for one lesson; those shown come first"
    shown = sorted(chosen, key=lambda r: (not r.comes_first, GROUPS.index(r.pattern.group)))
    return Ranked(shown=tuple(shown), watched=tuple(watched), why_not=why_not)


def _set_aside(alive: Sequence[PatternResult], evidence: BlockEvidence, lucky: set[str]) -> dict[str, str]:
    """Return why patterns are not shown: the level, a move just made, or another pattern that is no luck."""
    gate = level_gate(evidence)
    why: dict[str, str] = {}
    titles = {r.pattern.slug: r.pattern.title for r in alive}
    for r in alive:
        if gate and r.pattern.group not in GATED_GROUPS:
            why[r.pattern.slug] = gate
    if any(r.comes_first for r in alive):
        for r in alive:
            if not r.comes_first and r.pattern.group != "contact":
                why.setdefault(r.pattern.slug, MOVED_FIRST)
    in_play = [r.pattern.slug for r in alive if r.pattern.slug not in lucky | why.keys()]
    for r in alive:
        for other in r.pattern.held_back_by:
            if other in in_play:
                why.setdefault(r.pattern.slug, f"held back until this is settled: {titles[other]}")
        for other in r.pattern.covered_by:
            if other in in_play and not r.comes_first:
                why.setdefault(r.pattern.slug, f"part of another finding: {titles[other]}")
    return why


def _choice_key(result: PatternResult, evidence: BlockEvidence) -> tuple[bool, bool, int, bool, float, str]:
    seen = {e.pattern: e.visits for e in evidence.earlier}
    again = seen.get(result.pattern.slug, 0) >= SEEN_AGAIN_VISITS
    return (not result.comes_first, result.state != "supported", GROUPS.index(result.pattern.group),
            not again, -result.excess, result.pattern.slug)
