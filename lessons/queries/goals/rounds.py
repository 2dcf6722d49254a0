"""A goal read from rounds: the mean of the last ten differentials, and whether luck could have moved it."""

from django.utils import timezone

from academy.models import Goal
from lessons.models import Round
from lessons.queries.rounds import score_of
from metrics.change.words import Code, counted
from metrics.handicap.form import ASSUMED_SD, ENOUGH_FOR_OWN_SD, LAST, Form, form_of, luck_between

from .said import Said, limits, plain

LABEL = "Mean of the last ten differentials"


def rounds_goal(goal: Goal, *, rounds: list[Round]) -> Said:
    """Return the verdict on a goal of scores; ``rounds`` oldest first. No query.

    The ten rounds up to the day of the goal are held against the newest ten after it. One later mean is one look, so
    the best word is "likely".
    """
    wanted = limits(lower=goal.lower, upper=goal.upper, unit="")
    set_on = timezone.localdate(goal.created_at)
    before = form_of([score_of(one).differential for one in rounds if one.played_on <= set_on])
    after = form_of([score_of(one).differential for one in rounds if one.played_on > set_on])
    newest = after or before
    if newest is None:
        return Said(measure=LABEL, wanted=wanted, reason="No round is typed in yet.",
                    next_step="Type the last cards in; ten make a mean worth reading.")
    now = f"{newest.mean:.1f}, {counted(newest.n, noun='round')}"
    if before is None or after is None:
        side = "before" if before is None else "after"
        return Said(measure=LABEL, wanted=wanted, now=now, reason=f"No round from {side} the goal was set.",
                    next_step="Type the rounds in as they are played.")
    return _judged(goal, before, after, wanted, now)


def _judged(goal: Goal, before: Form, after: Form, wanted: str, now: str) -> Said:
    luck = _luck(before, after)
    code = _code(goal, before, after, luck)
    return Said(
        measure=LABEL, wanted=wanted, now=now, code=code, student=plain(code, label="Your rounds"),
        reason=f"{before.mean:.1f} over {counted(before.n, noun='round')} before, {after.mean:.1f} over "
               f"{counted(after.n, noun='round')} after; by luck alone two such means differ by up to {luck:.1f}.",
        next_step="Nothing to change here." if code == "in_window" else
                  f"Look again after {counted(LAST - after.n, noun='more round')}." if after.n < LAST else
                  "Look again after ten more rounds.",
    )


def _luck(before: Form, after: Form) -> float:
    """Return the noise of the difference, from the spread of both sides together where there are enough rounds."""
    known = before.n + after.n - 2
    sd = ASSUMED_SD
    if before.n + after.n >= ENOUGH_FOR_OWN_SD and known > 0:
        squares = sum((side.n - 1) * side.sd**2 for side in (before, after) if side.n > 1)
        sd = (squares / known) ** 0.5
    return luck_between(sd=sd, before=before.n, after=after.n)


def _code(goal: Goal, before: Form, after: Form, luck: float) -> Code:
    if all(_within(goal, side.mean) for side in (before, after)):
        return "in_window"
    if before.mean - after.mean > luck:
        return "likely"
    return "slipped" if after.mean - before.mean > luck else "cannot_tell"


def _within(goal: Goal, mean: float) -> bool:
    return (goal.lower is None or mean >= goal.lower) and (goal.upper is None or mean <= goal.upper)
