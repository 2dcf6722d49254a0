"""The setup in numbers: what was seen before and after, against the windows of this player, club and intent."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from lessons.models import Block, Lesson, SetupObservation
from lessons.queries.lesson import blocks_of
from metrics.checkpoints import CHECKPOINTS, DEFAULT_SHOULDER_WIDTH_CM, Checkpoint
from metrics.clubs import CATEGORIES
from metrics.rules.records import Library
from metrics.rules.setup_windows import window_of
from metrics.rules.types import BlockEvidence
from metrics.rules.words import directed, span

FIRST = ("stance_width_ratio", "ball_position_cm", "feet_deg", "hips_deg", "shoulders_deg")
SECOND = ("face_aim_deg", "shoulder_tilt_deg", "tee_height_mm")
DISTANCES = ("hand_thigh_cm", "toe_ball_cm")
"""Always on the board, window or not: they are measured against the player's own earlier ones."""
PHASES = tuple(SetupObservation.Phase.values)
CM_PER_INCH = 2.54
FULL_SWING = frozenset(CATEGORIES) - {"pitch", "chip", "sand", "putter"}
"""Clubs whose ball position turns the shoulders with it."""


@dataclass(frozen=True, kw_only=True)
class Seen:
    """One number that was noted, in words and as it was typed. ``outside`` None where there is no window."""

    value: float
    entered: str
    method: str
    words: str
    outside: bool | None


@dataclass(frozen=True, kw_only=True)
class Row:
    """One checkpoint of the board."""

    checkpoint: Checkpoint
    window: tuple[float, float] | None
    window_words: str
    before: Seen | None
    after: Seen | None

    @property
    def key(self) -> str:
        return self.checkpoint.key

    @property
    def latest(self) -> Seen | None:
        return self.after or self.before

    @property
    def phases(self) -> list[tuple[str, Seen | None]]:
        """The two boxes of the row."""
        return [("before", self.before), ("after", self.after)]


@dataclass(frozen=True, kw_only=True)
class Board:
    """All checkpoints of one kind of club: the five of every lesson, three more, and the rest."""

    block: Block
    rows: dict[str, Row]
    shoulder_width_cm: float
    shoulder_assumed: bool

    @property
    def first(self) -> list[Row]:
        return [self.rows[key] for key in (*FIRST, *SECOND) if key in self.rows]

    @property
    def more(self) -> list[Row]:
        return [row for key, row in self.rows.items() if key not in FIRST + SECOND]

    @property
    def noted(self) -> int:
        return sum(row.latest is not None for row in self.rows.values())

    @property
    def recheck(self) -> str:
        """What to look at again because something else was moved, or an empty text."""
        return recheck(category=self.block.category, noted={
            (key, phase): seen for key, row in self.rows.items() for phase, seen in row.phases if seen})

    def values(self, phase: str | None = None) -> dict[str, float]:
        """Return the numbers of one phase, or the latest ones."""
        seen = {key: row.latest if phase is None else getattr(row, phase) for key, row in self.rows.items()}
        return {key: value.value for key, value in seen.items() if value}


def recheck(*, category: str, noted: Mapping[tuple[str, str], Any]) -> str:
    """Return the linked check of a moved ball, until the shoulder line was looked at after it; else an empty text.

    ``noted`` holds by checkpoint and phase what has a ``value``. A number that is typed again is a correction, not
    another move.
    """
    before, after = (noted.get(("ball_position_cm", phase)) for phase in PHASES)
    if before is None or after is None or before.value == after.value or category not in FULL_SWING:
        return ""
    if ("shoulders_deg", "after") in noted:
        return ""
    way, lines = ("forward", "open") if after.value < before.value else ("back", "closed")
    return (f"The ball went {way}: shoulders like to turn {lines} with it. Look at the shoulder line before the next "
            "ball, and note it here.")


def work_block(lesson: Lesson) -> Block | None:
    """Return the block that is read: the newest without aids that has balls, else the newest. No query beyond the
    lesson's blocks."""
    blocks = blocks_of(lesson)
    plain = [block for block in blocks if not block.aids and block.summary.get("balls")]
    return (plain or blocks or [None])[-1]


def shoulder_width(lesson: Lesson) -> float:
    """Return the student's shoulder width in cm, the usual one until it is known."""
    return lesson.student.shoulder_width_cm or DEFAULT_SHOULDER_WIDTH_CM


def board_of(*, lesson: Lesson, block: Block, library: Library) -> Board:
    """Return the board for the kind of club of a block. One query."""
    noted = noted_for(lesson=lesson, category=block.category)
    evidence = BlockEvidence(
        club_category=block.category, intent=block.intent, hand=lesson.student.hand, on_tee=block.is_tee,
        setup={key: row.value for (key, _), row in noted.items()},
    )
    windows = {key: window_of(key, evidence=evidence, library=library) for key in CHECKPOINTS}
    rows = {key: _row(key, windows[key], noted, lesson.student.hand) for key in CHECKPOINTS
            if windows[key] or key in (*FIRST, *DISTANCES) or any((key, phase) in noted for phase in PHASES)}
    return Board(
        block=block, rows=rows, shoulder_width_cm=shoulder_width(lesson),
        shoulder_assumed=lesson.student.shoulder_width_cm is None,
    )


def noted_for(*, lesson: Lesson, category: str) -> dict[tuple[str, str], SetupObservation]:
    """Return what was noted, by checkpoint and phase; the newest wins. One query."""
    rows = SetupObservation.objects.filter(lesson=lesson, category=category, removed_at__isnull=True).order_by("pk")
    return {(row.checkpoint, row.phase): row for row in rows}


def _row(key: str, window: tuple[float, float] | None, noted: dict[tuple[str, str], Any], hand: str) -> Row:
    before, after = (_seen(noted.get((key, phase)), window, hand) for phase in PHASES)
    return Row(checkpoint=CHECKPOINTS[key], window=window, before=before, after=after,
               window_words=span(key, limits=window) if window else "no window for this club")


def _seen(row: SetupObservation | None, window: tuple[float, float] | None, hand: str) -> Seen | None:
    if row is None:
        return None
    return Seen(
        value=row.value, entered=row.entered or f"{row.value:g}", method=_method(row),
        words=directed(row.checkpoint, value=row.value, hand=hand),
        outside=None if window is None else not window[0] <= row.value <= window[1],
    )


def _method(row: SetupObservation) -> str:
    """How it was looked at, with its ± and where the camera stood."""
    words = row.get_method_display()
    if row.uncertainty is not None and row.camera:
        words += f" ±{row.uncertainty:.0f}°, {row.camera}"
    return words
