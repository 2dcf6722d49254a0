"""Where to go from the results: the branches of a series, in the order in which they take precedence."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from typing import Literal

from metrics.plans.types import Player, VisitResult

BranchKey = Literal["refer", "health", "consent", "maintain", "play", "smaller", "go_on", "keep_at_it", "less_help",
                    "once_more", "reopen", "measure", "begin"]


@dataclass(frozen=True, kw_only=True)
class Branch:
    """One proposal: what to do and why. ``full_swings`` False keeps the long game out of what follows;
    ``may_change`` False allows nothing new."""

    key: BranchKey
    title: str
    do: str
    reason: str
    full_swings: bool = True
    may_change: bool = True


def branch_of(player: Player, *, day: date) -> Branch:
    """Return the branch for the next visit: referral first, then consent, health, events, the person, the numbers."""
    for rule in _RULES:
        found = rule(player, day)
        if found is not None:
            return found
    return _by_result(player)


def _refer(player: Player, day: date) -> Branch | None:
    last = player.results[-1] if player.results else None
    hurts = player.long_game_off or (last is not None and last.pain >= 4)
    if player.red_flag or (last is not None and last.outcome == "worse" and hurts):
        reason = ("An emergency sign was reported." if player.red_flag
                  else f"The number got worse and pain of {max(player.max_pain, last.pain if last else 0)} of 10 "
                       "was reported.")
        return Branch(key="refer", title="Stop and refer", reason=reason, full_swings=False, may_change=False,
                      do="Leave the change alone. A clinician first; putting or aim work, or an end for today.")
    return None


def _health(player: Player, day: date) -> Branch | None:
    if not player.long_game_off:
        return None
    why = "New pain was reported" if player.new_pain else f"Pain of {player.max_pain} of 10 is open"
    if not player.max_pain and not player.red_flag:
        why = "A clinician’s word is wanted"
    return Branch(key="health", title="Putting and aim until it is over", full_swings=False, may_change=False,
                  do="Start line, pace and aim. The change waits; back by steps: putt, chip, half wedge, half iron.",
                  reason=f"{why}: full swings stay off until it is 0 to 2 on two days running or a clinician clears "
                         "it.")


def _consent(player: Player, day: date) -> Branch | None:
    if player.may_be_taught:
        return None
    return Branch(key="consent", title="Consent first", full_swings=False, may_change=False,
                  do="Ask the guardian for the consent to lessons; nothing is planned before.",
                  reason="There is no valid consent to lessons for this junior.")


def _event(player: Player, day: date) -> Branch | None:
    event = player.event_near(day)
    if event is None:
        return None
    return Branch(key="maintain", title="Maintain only", may_change=False,
                  do="Keep what is there: first ten, play on random targets, short game. Nothing new.",
                  reason=f"{event.name} is in {(event.day - day).days} days; a change within four weeks of it costs "
                         "more than it brings.")


def _mood(player: Player, day: date) -> Branch | None:
    mood = player.results[-1].mood if player.results else ""
    if not mood:
        return None
    return Branch(key="play", title="Make it a game", may_change=False,
                  do="The same aim inside a game with points; no numbers on the screen today.",
                  reason="Told to be bored at the last visit." if mood == "bored"
                         else "Told to be afraid of it at the last visit.")


def _practice(player: Player, day: date) -> Branch | None:
    last = player.results[-1] if player.results else None
    if last is None or last.practised != "no" or (last.outcome == "kept" and last.in_window):
        return None
    return Branch(key="smaller", title="Plan smaller", may_change=False,
                  do="Three times ten minutes a week, one drill, one place. The change stays the same.",
                  reason="Nothing was practised since the last visit, so the change was not tried.")


_RULES: tuple[Callable[[Player, date], Branch | None], ...] = (_refer, _consent, _health, _event, _mood, _practice)


def _by_result(player: Player) -> Branch:
    if player.change is None:
        return Branch(key="begin", title="Find the one change", reason="No change is in work yet.",
                      do="First ten, look at the setup, choose one change.")
    if not player.results:
        return Branch(key="measure", title="Measure first", may_change=False, reason="No first ten since the change.",
                      do="Ten balls without aids before anything is said.")
    last = player.results[-1]
    return _OUTCOMES[last.outcome](player, last)


def _kept(player: Player, last: VisitResult) -> Branch:
    if last.in_window:
        return Branch(key="go_on", title="Transfer, or the next priority", reason="It held and lies in the window.",
                      do="Mixed clubs and targets; choose the next thing only when that holds too.")
    return Branch(key="keep_at_it", title="Same change, further", may_change=False,
                  reason="It held, and is not in the window yet.", do="The same change, a little more of it.")


def _partly(player: Player, last: VisitResult) -> Branch:
    return Branch(key="less_help", title="Same change, less help", may_change=False,
                  reason="Part of the gain was there at the first ten.",
                  do="Fewer aids, numbers hidden more often, an easier dose.")


def _lost(player: Player, last: VisitResult) -> Branch:
    before = player.results[-2].outcome if len(player.results) > 1 else ""
    if before in {"lost", "worse"}:
        return Branch(key="reopen", title="Open the cause again",
                      reason="It was gone at two first tens running.",
                      do="Check that practice was done, look at the cause anew, change the drill or the cue; do not "
                         "just repeat.")
    return Branch(key="once_more", title="Once more, and look at practice", may_change=False,
                  reason="It was gone once; one visit may be the day.",
                  do="The same change; ask what was practised and how; shorter tasks, guess before the look.")


def _unknown(player: Player, last: VisitResult) -> Branch:
    return Branch(key="measure", title="Measure first", may_change=False,
                  reason="The last visit could not tell whether it held.",
                  do="Ten balls without aids, same club and conditions, before anything is said.")


_OUTCOMES: dict[str, Callable[[Player, VisitResult], Branch]] = {
    "kept": _kept, "partly": _partly, "lost": _lost, "worse": _lost, "unknown": _unknown,
}
