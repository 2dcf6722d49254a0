"""A series of visits, and how results bend it: what changes, for which visits, and why. Never applied by itself."""

from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Literal

from metrics.plans.branch import Branch, BranchKey, branch_of
from metrics.plans.types import Player

StepKey = Literal["baseline", "retention", "mix", "short_game", "course", "battery", "repeat", "reopen", "maintain",
                  "calm", "wait", "game", "next"]
FEWEST, MOST = 2, 12
GAP_DAYS = (14, 21)
"""Two to three weeks apart: two where there is an hour of practice a week or more. Common practice."""
TITLES: dict[StepKey, str] = {
    "baseline": "Baseline and one setup change", "retention": "First ten, same change, fade the aids",
    "mix": "Mix clubs and targets", "short_game": "Short game or putting, with a measure", "course": "On the course",
    "battery": "Repeat the battery, report, next plan", "repeat": "Same change, less help, easier dose",
    "reopen": "Open the cause again; another drill or cue", "maintain": "Maintain only, nothing new",
    "calm": "Putting and aim until health allows more", "wait": "Nothing yet", "game": "The same aim as a game",
    "next": "Next priority: baseline and one change",
}
_ORDER: tuple[StepKey, ...] = ("baseline", "retention", "mix", "short_game", "course", "battery")
_CHANGES: frozenset[StepKey] = frozenset({"baseline", "retention", "mix", "repeat", "reopen", "next"})
_FULL: frozenset[StepKey] = _CHANGES | {"course", "battery", "game", "maintain"}
_DROPPED_FIRST: tuple[StepKey, ...] = ("course", "mix", "short_game")
"""What makes room where a visit is repeated: the last thing that builds on the rest goes first."""


@dataclass(frozen=True, kw_only=True)
class Step:
    """One visit of a series: 1-based number, day, what it is for and why."""

    number: int
    day: date
    key: StepKey
    title: str
    reason: str
    done: bool = False


@dataclass(frozen=True, kw_only=True)
class Series:
    """A series as it stands: its steps, in order."""

    steps: tuple[Step, ...]

    @property
    def next_number(self) -> int | None:
        """The number of the first visit that is still to come."""
        return next((step.number for step in self.steps if not step.done), None)


@dataclass(frozen=True, kw_only=True)
class Bend:
    """A proposal to change a series: the branch, what every coming step was and would be, and one sentence why."""

    branch: Branch
    before: tuple[Step, ...]
    after: tuple[Step, ...]
    sentence: str

    @property
    def changes(self) -> bool:
        """False where the results leave the series as it is."""
        return [step.key for step in self.before] != [step.key for step in self.after]


def plan_series(player: Player, *, start: date, visits: int = 6) -> Series:
    """Return a proposal of 2 to 12 visits, two or three weeks apart (ValueError outside).

    Six: baseline and one change, first ten and fading, mixed clubs, short game or putting with a measure, on the
    course, battery and report. Where a change is in work already its results bend the first visit. Visits that
    fall into the weeks before an event maintain; pain keeps full swings out of all of them until a bend takes them
    up again.
    """
    if not FEWEST <= visits <= MOST:
        raise ValueError(f"a series of {visits} visits was asked for; expected {FEWEST} to {MOST}")
    gap = GAP_DAYS[0] if (player.minutes_week or 0) >= 60 else GAP_DAYS[1]
    branch = branch_of(player, day=start)
    keys = _bent(branch.key, _keys(visits))
    days = [start + timedelta(days=gap * place) for place in range(visits)]
    why = branch if keys != _keys(visits) else None
    return Series(steps=tuple(
        _step(player, number, day, key, why) for number, (day, key) in enumerate(zip(days, keys, strict=True), 1)))


def bend_series(series: Series, *, player: Player, day: date) -> Bend | None:
    """Return what the results propose for the visits to come; None where none are. The number of visits stays.

    Nothing is applied: a coach takes it, changes it or leaves it.
    """
    coming = tuple(step for step in series.steps if not step.done)
    if not coming:
        return None
    branch = branch_of(player, day=max(day, coming[0].day) if player.event_near(coming[0].day) else day)
    keys = _bent(branch.key, [step.key for step in coming])
    after = tuple(_step(player, step.number, step.day, key, branch) for step, key in zip(coming, keys, strict=True))
    same = [step.key for step in coming] == [step.key for step in after]
    sentence = f"{branch.reason} " + ("The series stays as it is." if same else f"{branch.do}")
    return Bend(branch=branch, before=coming, after=coming if same else after, sentence=sentence)


def apply_bend(series: Series, *, bend: Bend) -> Series:
    """Return the series with the proposal taken; steps that are done stay as they were."""
    new = {step.number: step for step in bend.after}
    return replace(series, steps=tuple(new.get(step.number, step) if not step.done else step for step in series.steps))


def _keys(visits: int) -> list[StepKey]:
    """Shorten by leaving out the course, then mixing; lengthen by repeating first ten and mixing."""
    keys = list(_ORDER)
    leave_out: tuple[StepKey, ...] = ("course", "mix", "short_game", "retention")
    for key in leave_out:
        if len(keys) > visits:
            keys.remove(key)
    while len(keys) < visits:
        keys.insert(2, "retention" if (visits - len(keys)) % 2 else "mix")
    return keys


def _bent(branch: BranchKey, keys: list[StepKey]) -> list[StepKey]:
    """Return the kinds of the visits to come after a branch; visits that were held back come again first."""
    keys = _taken_up(branch, keys)
    match branch:
        case "refer" | "health":
            return ["calm" if key in _FULL else key for key in keys]
        case "consent":
            return ["wait"] * len(keys)
        case "maintain":
            return ["maintain", *keys[1:]]
        case "play":
            return ["game", *keys[1:]]
        case "less_help" | "once_more" | "keep_at_it" | "smaller" | "measure":
            return keys if keys[0] in {"baseline", "retention", "repeat"} and branch == "measure" \
                else _make_room("repeat", keys)
        case "reopen":
            return _make_room("reopen", keys)
    return keys


def _taken_up(branch: BranchKey, keys: list[StepKey]) -> list[StepKey]:
    if branch in {"refer", "health", "consent"} or not {"calm", "wait"} & set(keys):
        return keys
    return _keys(len(keys) + 1)[1:]


def _make_room(first: StepKey, keys: list[StepKey]) -> list[StepKey]:
    """Put a visit in front without adding one: what builds on the rest falls away, the battery never does.

    A visit that was to begin or hold the change gives its place; the line from before the change is there already.
    """
    if keys[0] in {"baseline", "retention", "repeat", "reopen"} or len(keys) == 1:
        return [first, *keys[1:]]
    rest = list(keys)
    gone = next((key for key in _DROPPED_FIRST if key in rest), rest[0])
    rest.remove(gone)
    return [first, *rest]


def _step(player: Player, number: int, day: date, key: StepKey, branch: Branch | None = None) -> Step:
    event = player.event_near(day)
    if event is not None and key in _CHANGES | {"battery", "maintain"}:
        return Step(number=number, day=day, key="maintain", title=TITLES["maintain"],
                    reason=f"{event.name} is {(event.day - day).days} days later: nothing new before it.")
    return Step(number=number, day=day, key=key, title=_title(player, key), reason=_why(player, key, branch))


def _title(player: Player, key: StepKey) -> str:
    if key == "short_game" and player.needs:
        return f"{player.needs[0].part.capitalize()}, with a measure"
    return TITLES[key]


_WHY: dict[StepKey, str] = {
    "baseline": "Without a line before the change nobody can say what it did.",
    "retention": "What is there two weeks later, without help, is what was learnt.",
    "mix": "A course never asks the same ball twice; mixing is raised once the change holds.",
    "short_game": "A third of the shots and the fastest strokes back.",
    "course": "Decisions and misses show only there.",
    "battery": "The same tests again say what the series was worth.",
    "maintain": "Nothing new before an event.", "calm": "Health first.", "wait": "Consent first.",
    "game": "Joy keeps people practising.",
    "repeat": "Not held in full yet.", "reopen": "Gone twice: the cause may be another one.",
    "next": "The first change holds.",
}


def _why(player: Player, key: StepKey, branch: Branch | None) -> str:
    if branch is not None and key in {"repeat", "reopen", "calm", "wait", "game", "maintain"}:
        return branch.reason
    if key == "short_game" and player.needs:
        return player.needs[0].why
    return _WHY[key]
