"""The parts a visit is made of, what each says and why. Weights are minutes of an hour; common practice, no source."""

from collections.abc import Callable
from dataclasses import dataclass

from metrics.plans.branch import Branch
from metrics.plans.types import CHILD, YOUNG, Player


@dataclass(frozen=True, kw_only=True)
class Part:
    """One part: ``write`` makes its text and its reason from the player, the branch and whether the visit is short."""

    key: str
    stop: str
    title: str
    weight: float
    write: Callable[[Player, Branch, bool], tuple[str, str]]
    full_swing: bool = False
    is_new: bool = False


def parts_of(branch: Branch, *, player: Player, step: str = "") -> tuple[Part, ...]:
    """Return the parts of a visit with their weights in minutes of an hour: what is allowed, then what was planned."""
    if player.red_flag or not player.may_be_taught:
        return (_GREET,)
    if not branch.full_swings:
        return _CALM
    if branch.key == "maintain":
        return _MAINTAIN
    if branch.key == "play" or (player.age is not None and player.age < CHILD):
        return _PLAY
    return _STEPS.get(step, _HOUR)


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


_GREET = Part(key="greet", stop="greet", title="Check in", weight=8, write=_greet)
_AGREE = Part(key="agree", stop="agree", title="Agree", weight=7, write=_agree)
_FIRST = Part(key="first_ten", stop="first_ten", title="First ten", weight=7, write=_first_ten, full_swing=True)
_TRANSFER = Part(key="transfer", stop="without", title="Transfer", weight=10, write=_transfer, full_swing=True)
_HOUR = (
    _GREET, _FIRST,
    Part(key="look", stop="look", title="Look at the setup", weight=4, write=_look),
    Part(key="reason", stop="reason", title="What it points at", weight=4, write=_reason),
    Part(key="change", stop="change", title="One change", weight=6, write=_change, is_new=True),
    Part(key="with_aids", stop="with_aids", title="With aids", weight=7, write=_with_aids, full_swing=True),
    Part(key="without", stop="without", title="Without", weight=7, write=_without, full_swing=True),
    _TRANSFER, _AGREE,
)
_CALM = (
    _GREET,
    Part(key="putting", stop="look", title="Putting", weight=30, write=_calm),
    Part(key="aim", stop="look", title="Aim without a swing", weight=15, write=_calm_aim),
    _AGREE,
)
_MAINTAIN = (
    _GREET, _FIRST,
    Part(key="short_game", stop="without", title="Short game", weight=18, write=_keep),
    Part(key="transfer", stop="without", title="Play on random targets", weight=20, write=_transfer, full_swing=True),
    _AGREE,
)
_PLAY = (
    _GREET, _FIRST,
    Part(key="transfer", stop="without", title="Game", weight=38, write=_game, full_swing=True),
    _AGREE,
)


def _short_test(player: Player, branch: Branch, short: bool) -> tuple[str, str]:
    part = player.needs[0].part if player.needs else "putting or wedges"
    why = player.needs[0].why if player.needs else "Without a measure nobody can say what the practice did."
    return f"A test with fixed targets in random order: {part}.", why


def _short_work(player: Player, branch: Branch, short: bool) -> tuple[str, str]:
    return "One thing of its setup, then the drill that answers the test.", "The cause is in the setup here too."


def _holes(player: Player, branch: Branch, short: bool) -> tuple[str, str]:
    return ("Holes: lie, club, aim, commit, result; note what another decision would have saved.",
            "Decisions and misses show only on the course. No sticks on the ground while playing.")


def _battery(player: Player, branch: Branch, short: bool) -> tuple[str, str]:
    return ("The same tests as at the first visit, same clubs, same places, no advice in between.",
            "Only the same test again says what the series was worth.")


def _report(player: Player, branch: Branch, short: bool) -> tuple[str, str]:
    return "Compare the batteries with their intervals; choose the next goal together.", "A number needs its meaning."


_MIX = tuple(part for part in _HOUR if part.key not in {"with_aids", "transfer"})[:-1] + (
    Part(key="transfer", stop="without", title="Mixed clubs and targets", weight=17, write=_transfer, full_swing=True),
    _AGREE,
)
_STEPS: dict[str, tuple[Part, ...]] = {
    "mix": _MIX,
    "short_game": (
        _GREET, _FIRST,
        Part(key="test", stop="look", title="Short-game test", weight=18, write=_short_test),
        Part(key="work", stop="change", title="Setup and drill", weight=12, write=_short_work, is_new=True),
        Part(key="transfer", stop="without", title="One ball, one place", weight=8, write=_transfer),
        _AGREE,
    ),
    "course": (
        _GREET,
        Part(key="transfer", stop="without", title="Holes", weight=45, write=_holes, full_swing=True),
        _AGREE,
    ),
    "battery": (
        _GREET,
        Part(key="test", stop="first_ten", title="Battery", weight=35, write=_battery, full_swing=True),
        Part(key="report", stop="reason", title="Report", weight=10, write=_report),
        _AGREE,
    ),
}
"""Visits of a series that have parts of their own; the others are the hour."""
