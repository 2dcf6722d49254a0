"""A goal read from runs of a short-game test: the runs after it against the last one before."""

from django.utils import timezone

from academy.models import Goal
from lessons.queries.skills.runs import Run
from lessons.queries.skills.words import change_words, number
from metrics.shortgame.designs import DESIGNS, Design
from metrics.shortgame.figures import Figure
from metrics.shortgame.held import judge_runs, within
from metrics.units import System

from .said import AGAIN, OUT_OF_DATE, Said, limits, plain

ONCE = "Two days differ by more than their balls say: a second run like this would make it likely."


def runs_goal(goal: Goal, *, runs: list[Run], system: System) -> Said:
    """Return the verdict on a goal of a test. No query."""
    design = DESIGNS.get(goal.test)
    if design is None:
        return Said(measure=goal.test, reason=OUT_OF_DATE)
    done = [run for run in runs if run.design.slug == design.slug and run.main]
    wanted = limits(lower=goal.lower, upper=goal.upper, unit=" %")
    if not done:
        return Said(measure=design.title, wanted=wanted, reason="This test was not done yet.",
                    next_step="A first run is the line that later ones are held against.")
    return _judged(goal, design, done, wanted, system)


def _judged(goal: Goal, design: Design, done: list[Run], wanted: str, system: System) -> Said:
    earlier = [run for run in done if run.test.begun_at <= goal.created_at]
    first = earlier[-1] if earlier else done[0]
    after = done[done.index(first) + 1:]
    newest = done[-1].main
    now = f"{_said(newest, system)} on {timezone.localtime(done[-1].test.begun_at):%-d %b %Y}"
    if not after:
        return Said(measure=f"{design.title}: {newest.label.lower()}", wanted=wanted, now=now,
                    reason="One run so far; the next one says whether it moved.",
                    next_step=AGAIN)
    found = judge_runs(before=first.main, after=[run.main for run in after], lower=goal.lower, upper=goal.upper)
    word, numbers = change_words(found.change, figure=newest, system=system)
    there = within(newest, lower=goal.lower, upper=goal.upper)
    reason = (f"{_said(first.main, system)} before. The newest run: {word.replace('last time', 'before')}"
              f"{f' ({numbers})' if numbers else ''}. It lies {'' if there else 'not yet '}where it is wanted.")
    return Said(
        measure=f"{design.title}: {newest.label.lower()}", wanted=wanted, now=now, code=found.code, reason=reason,
        next_step=ONCE if found.code == "cannot_tell" and word.startswith("better") else AGAIN,
        student=plain(found.code, label=design.title),
    )


def _said(figure: Figure, system: System) -> str:
    value = number(figure.value, figure, system)
    return f"{value} ({figure.hits} of {figure.n})" if figure.form == "share" else f"{value}, {figure.n} balls"
