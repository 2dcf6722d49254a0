"""Drift inside one visit: warming up, tiring, getting used to a change. Reads nothing itself."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from itertools import groupby

import numpy as np

from lessons.frames import BlockShots
from lessons.queries.visits import BlockVisit
from metrics.change.drift import Drift, session_drift, slope_test, split_adaptation
from metrics.change.question import Question
from metrics.change.settings import setting
from metrics.change.words import counted
from metrics.fields import FIELDS
from metrics.units import display, display_digits, display_unit

from .cards import Card, card, waiting

TIRED_SHARE = 0.05
"""A club speed that falls by this share within a visit is a reason to stop (common practice)."""
TITLE = "Within a visit"


@dataclass(frozen=True, kw_only=True)
class Run:
    """The balls of adjoining blocks under one set of conditions, in the order struck."""

    visits: tuple[BlockVisit, ...]
    balls: tuple[float, ...]
    set_aside: int

    @property
    def lesson(self):
        return self.visits[0].lesson


def drift_card(question: Question, visits: list[BlockVisit], *, changed: set[int],
               shots: Mapping[int, BlockShots]) -> Card:
    """Return what the newest visit with 20 balls of one kind says about drift; else how many are missing.

    ``changed`` holds the lessons in which something was changed: after it the first balls are kept and not judged.
    """
    runs = [run for run in runs_of(visits, changed=changed) if run.balls]
    fewest = int(setting("drift_balls"))
    long = [run for run in runs if len(run.balls) >= fewest]
    if not long:
        most = max((len(run.balls) for run in runs), default=0)
        return waiting(TITLE, why=f"Warm-up and tiring show in {fewest} balls of one kind in one visit; the "
                       f"most so far are {most}.", next_step="Nothing to do; longer blocks are read when they come.")
    run = long[-1]
    found = _in_words(question, run)
    return card(f"{TITLE}: {date.fromordinal(run.visits[0].visit.day):%-d %b}", found.coach,
                lines=_beside(run, shots))


def runs_of(visits: list[BlockVisit], *, changed: set[int]) -> list[Run]:
    """Return the runs of balls that may be read as one row, oldest first; no run reaches across a change."""
    runs = []
    for _, group in groupby(visits, key=lambda visit: (
            visit.lesson.pk, visit.visit.conditions, visit.lesson.pk in changed and visit.block.position == 1)):
        blocks = [visit for visit in group if visit.block.purpose != "adapt"]
        if not blocks:
            continue
        values = [value for visit in blocks for value in visit.visit.balls]
        after_change = blocks[0].lesson.pk in changed and blocks[0].block.position > 1
        aside, judged = split_adaptation(values=values) if after_change else ((), tuple(values))
        runs.append(Run(visits=tuple(blocks), balls=tuple(judged), set_aside=len(aside)))
    return runs


def _in_words(question: Question, run: Run) -> Drift:
    """The drift with its sentences in the reader's unit."""
    quantity, system = question.quantity, question.system
    factor = display(field_key=quantity, value=1.0, system=system)[0]
    unit = display_unit(field_key=quantity, system=system)
    return session_drift(
        values=[value * factor for value in run.balls], swc=question.swc * factor,
        unit=unit if unit == "°" else f" {unit}".rstrip(), digits=display_digits(field_key=quantity, system=system),
        signed=bool(FIELDS[quantity].plus_means),
    )


def _beside(run: Run, shots: Mapping[int, BlockShots]) -> tuple[str, ...]:
    """What else is known of that visit: balls set aside, no warm-up, a falling club speed."""
    said = []
    if run.set_aside:
        said.append(f"The first {run.set_aside} balls after the change are kept and not judged.")
    if run.lesson.warmed_up is False:
        said.append("No warm-up was noted for this visit.")
    fallen = speed_lost(run, shots)
    if fallen is not None:
        said.append(f"Club speed fell by {100 * fallen:.0f} % from the first ten to the last ten: time to stop. Ask "
                    "about pain.")
    return tuple(said)


def speed_lost(run: Run, shots: Mapping[int, BlockShots]) -> float | None:
    """Return the share of club speed lost from first to last ten, from 5 % and beyond luck; else None."""
    parts = [shots[visit.block.pk] for visit in run.visits if visit.block.pk in shots]
    speeds = np.concatenate([
        part.numbers["club_speed_mps"][~part.mishit & ~part.excluded]
        for part in parts if "club_speed_mps" in part.numbers] or [np.empty(0)])
    speeds = speeds[np.isfinite(speeds)]
    if speeds.size < setting("drift_balls"):
        return None
    slope, p = slope_test(values=speeds.tolist())
    lost = 1 - float(speeds[-10:].mean() / speeds[:10].mean())
    tired = lost >= TIRED_SHARE and slope < 0 and p < 0.05
    return lost if tired and math.isfinite(lost) else None


def adaptation_note(visits: list[BlockVisit]) -> str:
    """Return how many balls of getting used to a change were kept and not judged; empty without one."""
    balls = sum(visit.with_mishits.n for visit in visits if visit.block.purpose == "adapt")
    if not balls:
        return ""
    are = "are" if balls != 1 else "is"
    return f"{counted(balls, noun='ball')} of getting used to a change {are} kept and not judged."
