"""A practice plan from the minutes that will really be done: four weeks, aids fading, mixing rising."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date

from metrics.plans.branch import branch_of
from metrics.plans.difficulty import next_step
from metrics.plans.drills import pick
from metrics.plans.minutes import growth_limit, most_balls, split_minutes
from metrics.plans.types import CHILD, YOUNG, Player
from metrics.rules.records import Drill

WEEKS = 4
SMALL_WEEK, SESSION_MOST, SESSION_SMALL = 30, 30, 15
"""Short and often beats long and rare (from memory); the smallest plan is three times ten minutes."""
FADE = ("7 with aids, 3 without", "5 with, 5 without", "3 with, 7 without", "aids only to check")
MIXED_PCT = (20, 40, 60, 80)
"""How much of the hitting goes to changing clubs and targets, by week. In the field its effect on average is small,
smallest in children; it is raised for the course's sake and promises nothing."""


@dataclass(frozen=True, kw_only=True)
class Task:
    """One task of a session; ``drill`` is a slug, empty where nothing of the library fits place and kit.

    ``swings`` says whether its balls are struck with more than a putter: only those count as load. ``gentle`` says
    that nothing of it needs a swing: it may go on while full swings are off.
    """

    part: str
    minutes: int
    drill: str
    name: str
    dose: str
    most_balls: int
    how: str
    swings: bool = False
    gentle: bool = False


@dataclass(frozen=True, kw_only=True)
class Session:
    """One sitting of a week. ``begin`` and ``end`` say with what it begins and ends."""

    minutes: int
    begin: str
    tasks: tuple[Task, ...]
    end: str


@dataclass(frozen=True, kw_only=True)
class Week:
    """One week: its sittings, how the aids fade, how much is mixed, and the most balls."""

    number: int
    sessions: tuple[Session, ...]
    aids: str
    mixed_pct: int
    most_balls: int
    note: str


@dataclass(frozen=True, kw_only=True)
class PracticePlan:
    """Four weeks that fit in the minutes. ``reasons`` say why it looks like this."""

    minutes_week: int
    weeks: tuple[Week, ...]
    reasons: tuple[str, ...]


_PARTS: dict[str, tuple[tuple[str, float], ...]] = {
    "30": (("setup", 10), ("main", 10), ("random", 10)),
    "60": (("main", 15), ("random", 15), ("short", 15), ("putting", 15)),
    "120": (("main", 20), ("random", 30), ("short", 25), ("putting", 25)),
    "calm": (("putting", 20), ("setup", 10)),
    "maintain": (("random", 40), ("short", 30), ("putting", 30)),
}
_PLACES = {
    "setup": ("home", "range"), "main": (), "random": ("range", "course"), "short": ("green", "bunker", "range"),
    "putting": ("green", "home"),
}
_PATTERNS = {"random": ("aid_dependent", "session_drift"), "short": ("wedge_distance", "chip_contact", "bunker"),
             "putting": ("putt_start_bias", "putt_scatter_speed"), "setup": ("aims_slice_side", "over_draw", "slice")}
_NAMES = {"setup": "Setup", "main": "Main drill", "random": "Random clubs and targets", "short": "Wedges and chips",
          "putting": "Putting"}
_WITHOUT_KIT = {
    "setup": "Ten slow set-ups without a ball: grip, aim, feet, hold five seconds.",
    "main": "The change in slow motion, ten times, no ball.",
    "random": "Picture a hole before every rehearsal swing, ten holes.",
    "short": "Twenty brushes of the ground with the wedge, where that harms nothing.",
    "putting": "Start line over a coin at arm’s length, twenty putts.",
}
_STILL = frozenset({"setup", "putting"})
"""Parts that need no swing, also where no drill of the library fits."""
_CALM_WITHOUT_KIT = "Rest, or picture three putts with the whole routine."


def practice_plan(player: Player, *, day: date, library: Mapping[str, Drill], weeks: int = WEEKS) -> PracticePlan:
    """Return a plan that never asks for more than ``player.minutes_week`` (0 to 1200; None and ValueError outside).

    30 minutes: 10 setup, 10 main, 10 random. 60: 15 each of main, random, short game, putting. 120: 20 % technique,
    30 % random, 25 % wedges and chips, 25 % putting; between them the nearer one. Nothing without place and kit.
    """
    if player.minutes_week is None or not 0 <= player.minutes_week <= 1200:
        raise ValueError(f"{player.minutes_week} minutes a week were given; expected 0 to 1200")
    branch = branch_of(player, day=day)
    promised = min(player.minutes_week, SMALL_WEEK) if branch.key == "smaller" else player.minutes_week
    nothing = player.red_flag or not player.may_be_taught
    parts = _PARTS[_scheme(promised, branch.full_swings, branch.key == "maintain")]
    minutes = 0 if nothing else promised
    tasks = _tasks(player, parts, minutes, library) if minutes else []
    return PracticePlan(minutes_week=minutes, weeks=_weeks(player, tasks, weeks),
                        reasons=_reasons(player, day, promised, minutes))


def _scheme(minutes: int, full_swings: bool, maintain: bool) -> str:
    if not full_swings:
        return "calm"
    if maintain:
        return "maintain"
    return "30" if minutes < 45 else "60" if minutes < 90 else "120"


def _tasks(player: Player, parts: tuple[tuple[str, float], ...], minutes: int, library: Mapping[str, Drill],
           ) -> list[Task]:
    found: list[Task] = []
    times = split_minutes(total=minutes, weights=[weight for _, weight in parts], least=5)
    for (part, _), time in zip(parts, times, strict=True):
        if time:
            found.append(_task(player, part, time, library, {task.drill for task in found}))
    return found


def _task(player: Player, part: str, minutes: int, library: Mapping[str, Drill], taken: set[str]) -> Task:
    drill = _drill(player, part, minutes, library, taken)
    if drill is None:
        spoken = _CALM_WITHOUT_KIT if player.long_game_off and part != "putting" else _WITHOUT_KIT[part]
        return Task(part=_NAMES[part], minutes=minutes, drill="", name=_NAMES[part], dose="", most_balls=0, how=spoken,
                    gentle=part in _STILL)
    step = next_step(shares=(player.success or {}).get(drill.slug, ()))
    how = {"harder": f"It works too often: {drill.harder}", "easier": f"It works too seldom: {drill.easier}",
           "same": drill.cue}[step]
    balls = min(drill.balls, most_balls(minutes=minutes)) if drill.balls else 0
    return Task(part=_NAMES[part], minutes=minutes, drill=drill.slug, name=drill.name, dose=drill.dose,
                most_balls=balls, how=how, swings=balls > 0 and not drill.gentle, gentle=drill.gentle)


def _drill(player: Player, part: str, minutes: int, library: Mapping[str, Drill], taken: set[str]) -> Drill | None:
    """Return the drill of a part: what a test pointed at first, then what the part is for."""
    change = player.change
    named = change.drills if change and part == "main" else ()
    patterns = _PATTERNS.get(part, (change.pattern,) if change else _PATTERNS["setup"])
    needs = [need.pattern for need in player.needs if need.pattern in patterns]
    for wanted in (needs, patterns):
        found = pick(library, player=player, slugs=named, patterns=wanted, places=_PLACES[part], without=taken,
                     most_minutes=minutes)
        if found is not None:
            return found
    return None


def _weeks(player: Player, tasks: list[Task], weeks: int) -> tuple[Week, ...]:
    """Return the weeks one after the other: the balls of each count as history for the next."""
    found: list[Week] = []
    for number in range(1, weeks + 1):
        history = [week.most_balls for week in reversed(found)] + list(player.balls_weeks)
        found.append(_week(player, number, _within(tasks, growth_limit(balls_weeks=history))))
    return tuple(found)


def _within(tasks: list[Task], limit: int | None) -> list[Task]:
    """Return the tasks with their swings cut in proportion where together they pass the limit."""
    planned = _swings(tasks)
    if limit is None or planned <= limit:
        return tasks
    return [replace(task, most_balls=task.most_balls * limit // planned) if task.swings else task for task in tasks]


def _swings(tasks: list[Task]) -> int:
    return sum(task.most_balls for task in tasks if task.swings)


def _week(player: Player, number: int, tasks: list[Task]) -> Week:
    calm = player.long_game_off
    fades = player.change is not None and player.change.with_aids and not calm
    mixed = MIXED_PCT[min(number, len(MIXED_PCT)) - 1] // (2 if player.junior else 1)
    note = "First ten before anything else; guess before you look." if number == 1 else "First ten again; note it."
    return Week(
        number=number, sessions=_sessions(tasks, calm=calm, most=_longest(player)), mixed_pct=0 if calm else mixed,
        aids=FADE[min(number, len(FADE)) - 1] if fades else "no aids needed",
        most_balls=_swings(tasks),
        note="Stop where it hurts; tell your coach." if calm else note)


def _longest(player: Player) -> int:
    """Return the longest sitting in minutes: children do not stay at one thing for long."""
    if player.age is None or player.age >= YOUNG:
        return SESSION_MOST
    return 20 if player.age >= CHILD else 10


def _sessions(tasks: list[Task], *, calm: bool, most: int) -> tuple[Session, ...]:
    """Group tasks into short sittings; a longer task is cut into equal parts."""
    sittings: list[list[Task]] = []
    for task in tasks:
        for piece in _pieces(task, most):
            if sittings and sum(one.minutes for one in sittings[-1]) + piece.minutes <= SESSION_SMALL:
                sittings[-1].append(piece)
            else:
                sittings.append([piece])
    return tuple(_session(sitting, calm) for sitting in sittings)


def _session(sitting: list[Task], calm: bool) -> Session:
    swings = _swings(sitting)
    begin, end = ("One slow set-up to begin.", "One picture of the change to end.")
    if calm:
        begin, end = "Ask yourself: any pain?", "Stop while it is easy."
    elif swings:
        first = min(10, swings // 2)
        begin = f"The first {first} of the balls without aids, as if on the first tee." if first > 1 else begin
        end = "The last five balls to five targets." if swings >= 10 else "The last ball to a new target."
    elif any(task.most_balls for task in sitting):
        begin, end = "Ten straight putts first; count them.", "Five putts from five places, one ball each."
    return Session(minutes=sum(task.minutes for task in sitting), tasks=tuple(sitting), begin=begin, end=end)


def _pieces(task: Task, most: int) -> list[Task]:
    count = max(-(-task.minutes // most), 1)
    times = split_minutes(total=task.minutes, weights=[1.0] * count)
    balls = split_minutes(total=task.most_balls, weights=[1.0] * count, least=0)
    return [replace(task, minutes=time, most_balls=ball) for time, ball in zip(times, balls, strict=True)]


def _reasons(player: Player, day: date, promised: int, minutes: int) -> tuple[str, ...]:
    branch = branch_of(player, day=day)
    found = [f"{branch.title}: {branch.reason}"]
    if not minutes:
        return (*found, "No practice is proposed.")
    found.append(f"{promised} minutes a week are what will really be done; the plan holds no more.")
    if growth_limit(balls_weeks=player.balls_weeks) is not None:
        found.append("The swings of a week grow by a third of the last weeks’ mean at most.")
    if player.minutes_week and promised < player.minutes_week:
        found.append("Smaller than said, because nothing was done: three times ten minutes first.")
    found += [need.why for need in player.needs]
    return tuple(found)
