"""One lesson, timed: eight parts of the hour in the order of the running order, each with its reason."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date

from metrics.plans.alerts import alerts_of
from metrics.plans.branch import Branch, branch_of
from metrics.plans.minutes import split_minutes
from metrics.plans.types import CHILD, YOUNG, Player

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


@dataclass(frozen=True, kw_only=True)
class _Part:
    key: str
    stop: str
    title: str
    weight: float
    write: Callable[[Player, Branch, bool], tuple[str, str]]
    full_swing: bool = False
    is_new: bool = False


def plan_lesson(player: Player, *, day: date, minutes: int) -> LessonPlan:
    """Return a proposal for a visit of 20 to 120 minutes (ValueError outside); its parts add up to them exactly.

    An hour: 8 check in, 15 test and look, 20 change, 10 transfer, 7 agree. Where health, consent, an event or a mood
    forbids a change, its minutes go to what is allowed; nothing forbidden is in the plan.
    """
    if not SHORTEST <= minutes <= LONGEST:
        raise ValueError(f"a lesson of {minutes} minutes was asked for; expected {SHORTEST} to {LONGEST}")
    branch = branch_of(player, day=day)
    short = minutes < CAN_TELL_FROM
    parts = _parts(branch, player)
    times = split_minutes(total=minutes, weights=[part.weight for part in parts])
    items = tuple(_item(part, time, player, branch, short) for part, time in zip(parts, times, strict=True) if time)
    return LessonPlan(
        minutes=minutes, goal=player.goal or "Say one thing you will do, not a result", branch=branch,
        alerts=alerts_of(player, day=day), items=items, nudge_at=nudge_minute(items),
        next_test=_next_test(player, branch),
    )


def nudge_minute(items: tuple[Item, ...]) -> int | None:
    """Return the minute at which the transfer begins, None where there is none."""
    minute = 0
    for item in items:
        if item.key == "transfer":
            return minute
        minute += item.minutes
    return None


def _item(part: _Part, minutes: int, player: Player, branch: Branch, short: bool) -> Item:
    text, reason = part.write(player, branch, short)
    return Item(key=part.key, stop=part.stop, title=part.title, minutes=minutes, text=text, reason=reason,
                full_swing=part.full_swing, is_new=part.is_new)


def _parts(branch: Branch, player: Player) -> tuple[_Part, ...]:
    if branch.key in {"consent"} or player.red_flag:
        return (_GREET,)
    if not branch.full_swings:
        return _CALM
    if branch.key == "maintain":
        return _MAINTAIN
    if branch.key == "play" or (player.age is not None and player.age < CHILD):
        return _PLAY
    return _HOUR


def _greet(player: Player, branch: Branch, short: bool) -> tuple[str, str]:
    return ("Pain, warm-up, played, practised. Say the one goal.",
            "Safety first; and what was practised decides how to read the first ten.")


def _first_ten(player: Player, branch: Branch, short: bool) -> tuple[str, str]:
    balls = "Six balls" if short else "Ten balls"
    return (f"{balls}, no aids, no numbers, no advice.",
            "The only honest look at what held." if player.change else "The line that later visits are held against.")


def _look(player: Player, branch: Branch, short: bool) -> tuple[str, str]:
    camera = " By eye: filming is not allowed." if "filming" in player.consents_missing and player.junior else ""
    return (f"Aim, feet, shoulders, ball, width: setup before swing.{camera}",
            "The setup cause is the cheapest to change and the first to check.")


def _reason(player: Player, branch: Branch, short: bool) -> tuple[str, str]:
    if branch.key == "reopen":
        return "Look at the cause anew; ask how it was practised.", branch.reason
    if player.change:
        return f"Is it still: {player.change.title}?", "Last visit’s reading is a guess until the balls say it again."
    return "What do the balls and the setup point at?", "A change without a cause is a guess."


def _change(player: Player, branch: Branch, short: bool) -> tuple[str, str]:
    if player.change and branch.key != "reopen":
        cue = f" Cue: {player.change.cue}." if player.change.cue else ""
        return f"{player.change.change}.{cue} {branch.do}", branch.reason
    return branch.do, branch.reason


def _with_aids(player: Player, branch: Branch, short: bool) -> tuple[str, str]:
    balls = "Six balls" if short else "Ten balls"
    if branch.key == "less_help":
        return f"{balls}, aids down for every second one only.", "Help that fades is help that can be left at home."
    return f"{balls} with aids, feedback shown.", "Feel it with help first; it proves nothing yet."


def _without(player: Player, branch: Branch, short: bool) -> tuple[str, str]:
    balls = "Six balls" if short else "Ten balls"
    note = " Six balls say “can’t tell yet”." if short else ""
    return f"{balls} without aids, guess before the number.{note}", "With and without are compared, today only."


def _transfer(player: Player, branch: Branch, short: bool) -> tuple[str, str]:
    return ("New target each ball, full routine, no numbers.",
            "What works on a steady target has to work on a moving one.")


def _agree(player: Player, branch: Branch, short: bool) -> tuple[str, str]:
    minutes = f"{player.minutes_week} minutes a week" if player.minutes_week else "the minutes they will really do"
    dose = "three times ten minutes" if branch.key == "smaller" else minutes
    return f"Drill and dose for {dose}; next test and date; the student reads it back. Two lines for yourself.", \
        "Half is forgotten by the evening if nobody says it aloud."


def _calm(player: Player, branch: Branch, short: bool) -> tuple[str, str]:
    return "Putts: start line through a gate, pace to three distances.", branch.reason


def _calm_aim(player: Player, branch: Branch, short: bool) -> tuple[str, str]:
    return "Aim and setup without a swing: pick a spot, face first, feet second; read a stick afterwards.", branch.do


def _keep(player: Player, branch: Branch, short: bool) -> tuple[str, str]:
    return "Short game with a measure: wedges or chips to three distances.", branch.reason


def _game(player: Player, branch: Branch, short: bool) -> tuple[str, str]:
    limit = " Change the game after 20 minutes at the latest." if player.age is not None and player.age < YOUNG else ""
    return f"Points for the target, not for the swing; the same aim hidden in the rules.{limit}", branch.reason


_GREET = _Part(key="greet", stop="greet", title="Check in", weight=8, write=_greet)
_AGREE = _Part(key="agree", stop="agree", title="Agree", weight=7, write=_agree)
_FIRST = _Part(key="first_ten", stop="first_ten", title="First ten", weight=7, write=_first_ten, full_swing=True)
_TRANSFER = _Part(key="transfer", stop="without", title="Transfer", weight=10, write=_transfer, full_swing=True)
_HOUR = (
    _GREET, _FIRST,
    _Part(key="look", stop="look", title="Look at the setup", weight=4, write=_look),
    _Part(key="reason", stop="reason", title="What it points at", weight=4, write=_reason),
    _Part(key="change", stop="change", title="One change", weight=6, write=_change, is_new=True),
    _Part(key="with_aids", stop="with_aids", title="With aids", weight=7, write=_with_aids, full_swing=True),
    _Part(key="without", stop="without", title="Without", weight=7, write=_without, full_swing=True),
    _TRANSFER, _AGREE,
)
_CALM = (
    _GREET,
    _Part(key="putting", stop="look", title="Putting", weight=30, write=_calm),
    _Part(key="aim", stop="look", title="Aim without a swing", weight=15, write=_calm_aim),
    _AGREE,
)
_MAINTAIN = (
    _GREET, _FIRST,
    _Part(key="short_game", stop="without", title="Short game", weight=18, write=_keep),
    _Part(key="transfer", stop="without", title="Play on random targets", weight=20, write=_transfer, full_swing=True),
    _AGREE,
)
_PLAY = (
    _GREET, _FIRST,
    _Part(key="transfer", stop="without", title="Game", weight=38, write=_game, full_swing=True),
    _AGREE,
)


def _next_test(player: Player, branch: Branch) -> str:
    if not branch.full_swings:
        return "Ask about pain first; putting start line again"
    if player.change and player.change.retest:
        return f"First ten without aids; then {player.change.retest}"
    return "First ten without aids, same club"
