"""One lesson, timed: eight parts of the hour in the order of the running order, each with its reason."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from metrics.plans.alerts import alerts_of
from metrics.plans.branch import Branch, branch_of
from metrics.plans.lesson_parts import Part, parts_of
from metrics.plans.minutes import split_minutes
from metrics.plans.types import Player

SHORTEST, LONGEST = 20, 120
CAN_TELL_FROM = 40
"""Below 40 minutes one club and 6 + 6 balls fit; the verdict of such a visit is "can't tell yet"."""


@dataclass(frozen=True, kw_only=True)
class Item:
    """One part of the hour. ``stop`` is the stop of the running order it belongs to; ``full_swing`` says whether it
    needs one; ``is_new`` marks the one thing that changes something."""

    key: str
    stop: str
    title: str
    minutes: int
    text: str
    reason: str
    full_swing: bool = False
    is_new: bool = False


@dataclass(frozen=True, kw_only=True)
class LessonPlan:
    """A proposal for one visit. ``nudge_at`` is the minute at which the transfer should begin, None without one."""

    minutes: int
    goal: str
    branch: Branch
    alerts: tuple[str, ...]
    items: tuple[Item, ...]
    nudge_at: int | None
    next_test: str


def plan_lesson(player: Player, *, day: date, minutes: int, step: str = "") -> LessonPlan:
    """Return a proposal for a visit of 20 to 120 minutes (ValueError outside); its parts add up to them exactly.

    An hour: 8 check in, 15 test and look, 20 change, 10 transfer, 7 agree; a visit of a series (``step``) for the
    short game, the course, mixed clubs or the battery has its own parts. Where health, consent, an event or a mood
    forbids a change, its minutes go to what is allowed; nothing forbidden is in the plan.
    """
    if not SHORTEST <= minutes <= LONGEST:
        raise ValueError(f"a lesson of {minutes} minutes was asked for; expected {SHORTEST} to {LONGEST}")
    branch = branch_of(player, day=day)
    short = minutes < CAN_TELL_FROM
    parts = parts_of(branch, player=player, step=step)
    times = split_minutes(total=minutes, weights=[part.weight for part in parts])
    items = tuple(_item(part, time, player, branch, short) for part, time in zip(parts, times, strict=True) if time)
    return LessonPlan(
        minutes=minutes, goal=player.goal or "Say one thing you will do, not a result", branch=branch,
        alerts=alerts_of(player, day=day), items=items, next_test=_next_test(player, branch),
        nudge_at=nudge_after(parts=[(item.key, item.minutes) for item in items]),
    )


def nudge_after(*, parts: Sequence[tuple[str, int]]) -> int | None:
    """Return the minute at which the transfer begins, from (key, minutes) in order; None where there is none."""
    minute = 0
    for key, minutes in parts:
        if key == "transfer":
            return minute
        minute += minutes
    return None


def _item(part: Part, minutes: int, player: Player, branch: Branch, short: bool) -> Item:
    text, reason = part.write(player, branch, short)
    return Item(key=part.key, stop=part.stop, title=part.title, minutes=minutes, text=text, reason=reason,
                full_swing=part.full_swing, is_new=part.is_new)


def _next_test(player: Player, branch: Branch) -> str:
    if not branch.full_swings:
        return "Ask about pain first; putting start line again"
    if player.change and player.change.retest:
        return f"First ten without aids; then {player.change.retest}"
    return "First ten without aids, same club"
