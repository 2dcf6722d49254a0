"""Findings as cards: the rules' words, every ball as a dot against the window, the setup drawn beside each check."""

from dataclasses import dataclass

import numpy as np
from django.utils.safestring import SafeString

from lessons.models import Finding as Decided
from lessons.pictures.window_dots import WindowDots, draw
from lessons.queries.setup import Board, Row
from lessons.queries.setup_pictures import FACE_ON, PLAN, face_on, plan
from metrics.checkpoints import CHECKPOINTS
from metrics.fields import FIELDS, MIRRORED
from metrics.rules.assessment import CheckShown, Evidence, Finding
from metrics.rules.types import BlockEvidence
from metrics.rules.words import directed, span

ENDS = {
    "club_path_deg": ("out-to-in", "in-to-out"), "face_to_path_deg": ("closed", "open"),
    "face_angle_deg": ("closed", "open"), "attack_angle_deg": ("down", "up"),
    "strike_heel_toe_mm": ("toe", "heel"), "strike_high_low_mm": ("low", "high"),
}
"""What the ends of a number line are called; what goes to a side is named by the hand."""


@dataclass(frozen=True, kw_only=True)
class CheckCard:
    """One thing to look at, with its box, its window and its pictures: from above, from the front, or none."""

    check: CheckShown
    row: Row | None
    window: str
    shipped: str
    seen: str
    then: str
    pictures: list[SafeString]

    @property
    def phase(self) -> str:
        """Which box a tick fills: the number after the change, once there is one."""
        return "after" if self.row and self.row.after else "before"

    @property
    def entered(self) -> str:
        """What stands in the box."""
        return self.row.latest.entered if self.row and self.row.latest else ""


@dataclass(frozen=True, kw_only=True)
class Card:
    """One finding with what can be argued with."""

    finding: Finding
    evidence: list[tuple[Evidence, SafeString | None]]
    checks: list[CheckCard]
    decided: Decided | None
    strength: str

    @property
    def spread(self) -> bool:
        """Whether a "±" stands in a sentence, which then has to be said in words."""
        return any(row.statistic == "mean" for row, _ in self.evidence)

    @property
    def interval(self) -> bool:
        """Whether a picture has a bar."""
        return any(picture is not None and row.lo is not None for row, picture in self.evidence)


def card(finding: Finding, *, evidence: BlockEvidence, board: Board, decided: Decided | None) -> Card:
    """Return the card of a finding. No query."""
    left = evidence.hand == "left"
    return Card(
        finding=finding, decided=decided, strength="well past the limit" if finding.strength == "strong" else "",
        evidence=[(row, dots(row, evidence=evidence, key=f"{finding.pattern}-{place}", left_handed=left))
                  for place, row in enumerate(finding.evidence)],
        checks=[_check(check, board, left, finding.pattern) for check in finding.checks],
    )


def _check(check: CheckShown, board: Board, left: bool, pattern: str) -> CheckCard:
    hand = "left" if left else "right"
    differs = check.shipped_window is not None and check.shipped_window != check.window
    return CheckCard(
        check=check, row=board.rows.get(check.checkpoint),
        window=span(check.checkpoint, limits=check.window) if check.window else "",
        shipped=span(check.checkpoint, limits=check.shipped_window) if differs else "",
        seen=directed(check.checkpoint, value=check.value, hand=hand) if check.value is not None else "",
        then=CHECKPOINTS[check.then_check].label.lower() if check.then_check else "",
        pictures=_pictures(check, board, left, pattern),
    )


def _pictures(check: CheckShown, board: Board, left: bool, pattern: str) -> list[SafeString]:
    """Draw this player's setup with the checkpoint's window, and with where it should go; only what shows it."""
    key, goal, found = f"check-{pattern}-{check.checkpoint}", None, []
    if check.outside and check.window is not None and check.value is not None:
        goal = {check.checkpoint: check.window[1] if check.value > check.window[1] else check.window[0]}
    if check.checkpoint in PLAN:
        found.append(plan(board, left_handed=left, key=key, goal=goal, only=(check.checkpoint,)))
    if check.checkpoint in FACE_ON:
        found.append(face_on(board, left_handed=left, key=f"{key}-front"))
    return found


def dots(row: Evidence, *, evidence: BlockEvidence, key: str, left_handed: bool) -> SafeString | None:
    """Draw every ball of a measured mean against its window; None for shares, calls and setup numbers."""
    values = evidence.shots.get(row.quantity)
    if row.statistic != "mean" or not row.measured or values is None or row.quantity not in FIELDS:
        return None
    spec = FIELDS[row.quantity]
    minus, plus = ENDS.get(row.quantity, ("", ""))
    if row.quantity in {"launch_direction_deg", "side_m", "spin_axis_deg"}:
        minus, plus = ("right", "left") if left_handed else ("left", "right")
    return draw(WindowDots(
        label=row.label, unit=row.unit, digits=spec.digits, key=f"evidence-{key}",
        values=tuple(float(value) for value in values[np.isfinite(values)]), window=row.window, mean=row.mean,
        interval=(row.lo, row.hi) if row.lo is not None and row.hi is not None else None,
        minus_word=minus, plus_word=plus, mirrored=left_handed and row.quantity in MIRRORED,
    ))
