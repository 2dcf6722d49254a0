"""The library's records: what a pattern, a check, a drill, a window is, once read and checked.

Numbers keep their evidence mark and source beside them (``metrics.method.Mark``). Texts may hold the
placeholders ``{slice_side}``, ``{hook_side}`` and ``{hand}``; ``metrics.rules.words`` fills them.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from metrics.method import Mark
from metrics.rules.route_records import Route

Group = Literal["contact", "aim", "face", "path", "speed", "practice"]
GROUPS: tuple[Group, ...] = ("contact", "aim", "face", "path", "speed", "practice")
"""The order in which findings are read: contact before aim, aim before face, face before path, then speed."""

Side = Literal["above", "below", "either"]


@dataclass(frozen=True, kw_only=True)
class SetupCheck:
    """One thing to look at for a pattern. ``side`` is the side of the window that feeds this pattern."""

    checkpoint: str
    title: str
    side: Side
    window: tuple[float, float] | None
    clubs: tuple[str, ...]
    reason: str
    over_doing: str
    then_check: str
    mark: Mark
    source: str


@dataclass(frozen=True, kw_only=True)
class Expectation:
    """What the number should do, in its unit, and when."""

    quantity: str
    unit: str
    low: float
    high: float
    when: str
    mark: Mark
    source: str


@dataclass(frozen=True, kw_only=True)
class OverCorrection:
    """The sign that the player has gone too far."""

    quantity: str
    side: Literal["above", "below", "watch for"]
    value: float | None
    text: str
    mark: Mark
    source: str


@dataclass(frozen=True, kw_only=True)
class Retest:
    """How to find out: balls with and without aids, and the text with the pass mark."""

    with_aids: int
    no_aids: int
    text: str
    mark: Mark
    source: str


@dataclass(frozen=True, kw_only=True)
class Warning:
    """A sentence to say before it happens. ``when`` is a checkpoint being moved, or "always"."""

    when: str
    text: str


@dataclass(frozen=True, kw_only=True)
class Pattern:
    """One fault pattern of the library. ``plain`` says it to the player in everyday words, or is empty."""

    slug: str
    code: str
    title: str
    group: Group
    clubs: tuple[str, ...]
    minimum_n: int
    plain: str
    seen: str
    mechanism: str
    routes: tuple[Route, ...]
    checks: tuple[SetupCheck, ...]
    expect: tuple[Expectation, ...]
    over_correction: OverCorrection
    retest: Retest
    caution: str
    avoid_areas: tuple[str, ...]
    warnings: tuple[Warning, ...]
    drills: tuple[str, ...]
    covered_by: tuple[str, ...]
    held_back_by: tuple[str, ...]
    mark: Mark
    source: str


@dataclass(frozen=True, kw_only=True)
class Drill:
    """One drill, as its card shows it.

    ``areas`` are body areas for which it is not offered; ``gentle`` has no swing in it: aim, setup or putting.
    """

    slug: str
    code: str
    name: str
    why: str
    patterns: tuple[str, ...]
    kit: tuple[str, ...]
    places: tuple[str, ...]
    minutes: int
    balls: int
    dose: str
    setup: str
    steps: tuple[str, ...]
    harder: str
    easier: str
    cue: str
    measure: str
    pass_mark: str
    caution: str
    areas: tuple[str, ...]
    gentle: bool
    not_for: tuple[str, ...]
    mark: Mark
    source: str


@dataclass(frozen=True, kw_only=True)
class SetupWindow:
    """Where a checkpoint should lie for one club (and, where given, one intent or lie of the ball).

    ``basis`` "value": low..high in the checkpoint's unit; "centre_widths": ball widths from the middle of the
    stance, + toward the trail foot, turned into cm from this player's stance.
    """

    club: str
    checkpoint: str
    intent: str
    lie: Literal["", "tee", "turf"]
    basis: Literal["value", "centre_widths"]
    low: float
    high: float
    words: str
    mark: Mark
    source: str


@dataclass(frozen=True, kw_only=True)
class SetupEffect:
    """What one step of a checkpoint does to a quantity: ``low``..``high`` per ``step`` of the checkpoint.

    ``model`` names the geometry that computes the size for the club ("ball_position") instead of low/high.
    ``reach`` is the largest move, in the checkpoint's unit, that the size was ever noted for; None for any.
    """

    checkpoint: str
    step: float
    quantity: str
    unit: str
    low: float | None
    high: float | None
    model: str
    reach: float | None
    clubs: tuple[str, ...]
    watch: str
    mark: Mark
    source: str


@dataclass(frozen=True, kw_only=True)
class BodyCaution:
    """What to leave out and what to do instead when a body area is reported sore. Never a diagnosis."""

    area: str
    label: str
    avoid: str
    instead: str
    mark: Mark
    source: str


@dataclass(frozen=True, kw_only=True)
class SafetyText:
    """A duty-of-care text and what brings it up."""

    key: str
    trigger: str
    text: str
    offers: tuple[str, ...]
    mark: Mark
    source: str


@dataclass(frozen=True, kw_only=True)
class Library:
    """The whole library. Mappings are keyed by slug, area or key, in the order of the files."""

    patterns: Mapping[str, Pattern]
    drills: Mapping[str, Drill]
    windows: tuple[SetupWindow, ...]
    effects: tuple[SetupEffect, ...]
    cautions: Mapping[str, BodyCaution]
    safety: Mapping[str, SafetyText]
