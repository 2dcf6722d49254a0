"""The setup side of a pattern: windows for this player, and which checks lie outside them."""

from dataclasses import dataclass

from metrics.rules.estimates import setup_value
from metrics.rules.limits import Window
from metrics.rules.records import Library, Pattern, SetupCheck
from metrics.rules.setup_windows import window_of
from metrics.rules.types import BlockEvidence


@dataclass(frozen=True, kw_only=True)
class CheckState:
    """A check with its window and this player's value. ``linked`` = outside on the side that feeds the pattern."""

    check: SetupCheck
    window: Window | None
    value: float | None
    inside: bool
    linked: bool


def check_states(pattern: Pattern, *, evidence: BlockEvidence, library: Library) -> list[CheckState]:
    """Return every check of the pattern that fits the club, in the pattern's order."""
    return [_state(check, evidence, library) for check in pattern.checks
            if not check.clubs or evidence.club_category in check.clubs]


def _state(check: SetupCheck, evidence: BlockEvidence, library: Library) -> CheckState:
    window = check.window or window_of(check.checkpoint, evidence=evidence, library=library)
    value = setup_value(check.checkpoint, evidence=evidence)
    if window is None or value is None:
        return CheckState(check=check, window=window, value=value, inside=False, linked=False)
    above, below = value > window[1], value < window[0]
    linked = (above and check.side != "below") or (below and check.side != "above")
    return CheckState(check=check, window=window, value=value, inside=not (above or below), linked=linked)


def linked_outside(states: list[CheckState], *, without: frozenset[str]) -> int:
    """Count the checkpoints outside their windows on the linked side, each once, leaving out ``without``."""
    return len({s.check.checkpoint for s in states if s.linked} - without)


def to_show(states: list[CheckState], *, limit: int = 3) -> list[CheckState]:
    """Return at most ``limit`` checks: first what is outside, then what was not measured, both in order.

    A check inside its window is never shown, nor one outside on the side that does not feed the pattern.
    A checkpoint whose recheck already rides on a shown one is left out where space is short.
    """
    outside = [s for s in states if s.linked]
    open_ = [s for s in states if s.value is None]
    riding = {s.check.then_check for s in outside if s.check.then_check}
    open_.sort(key=lambda s: s.check.checkpoint in riding)
    return (outside + open_)[:limit]
