"""The pages of the short game: the list of a student's runs, and one run while it is typed."""

import uuid
from typing import Any

from academy.models import Student
from lessons.library import current_library
from lessons.models import SkillTest
from metrics.shortgame.band import error_band
from metrics.shortgame.compare import compare
from metrics.shortgame.designs import DESIGNS, target_at
from metrics.units import System

from .findings import findings_of
from .runs import Run, run_of, runs_of
from .words import band_words, change_words, figure_row, target_words

YES_NO = {"made": ("Holed", "Missed"), "saved": ("Up and down", "Not this time"), "out": ("Out and on", "Not on")}


def short_game_page(*, student: Student, system: System) -> dict[str, Any]:
    """Return the tests to begin with their error bands, and every run with its change. Two queries."""
    found = runs_of(student=student)
    rows, earlier = [], {}
    for run in found:
        rows.append(_list_row(run, earlier.get(run.design.slug), system))
        earlier[run.design.slug] = run
    designs = [{"design": design, "band": band_words(error_band(design=design))} for design in DESIGNS.values()]
    return {
        "student": student, "rows": rows[::-1], "tests": [one for one in designs if one["design"].is_test],
        "checks": [one for one in designs if not one["design"].is_test],
    }


def _list_row(run: Run, before: Run | None, system: System) -> dict[str, Any]:
    word, numbers = "first run", ""
    if before is not None and run.main and before.main:
        word, numbers = change_words(compare(before=before.main, after=run.main), figure=run.main, system=system)
    main = figure_row(run.main, design=run.design, system=system, hand=run.test.student.hand, main=True)
    return {"run": run, "main": main, "word": word, "numbers": numbers}


def run_page(*, test: SkillTest, system: System) -> dict[str, Any]:
    """Return one run: the next target, what was typed, the figures so far, and what the rules say. Eight queries."""
    run = run_of(test)
    number, hand = len(run.balls) + 1, test.student.hand
    station = target_at(design=run.design, seed=test.seed, number=number)
    rows = [figure_row(one, design=run.design, system=system, hand=hand, main=one is run.main) for one in run.figures]
    return {
        "test": test, "student": test.student, "design": run.design, "number": number, "key": uuid.uuid4(),
        "target": target_words(station, system=system), "complete": number > run.design.balls,
        "rows": rows, "last": _last(run, system), "yes_no": YES_NO.get(run.design.kind),
        "sides": [("-1", "Left"), ("0", "In"), ("1", "Right")] if hand != "left" else
                 [("1", "Left"), ("0", "In"), ("-1", "Right")],
        "band": band_words(error_band(design=run.design)), **_said(run),
    }


def _said(run: Run) -> dict[str, Any]:
    found = findings_of(run)
    if found is None:
        return {"assessment": None}
    drills = current_library().drills
    cards = [{"finding": one, "drills": [drills[slug] for slug in one.drills if slug in drills]}
             for one in found.findings]
    return {"assessment": found, "cards": cards}


def _last(run: Run, system: System) -> str:
    if not run.balls:
        return ""
    ball = run.balls[-1]
    at = target_words(ball.target_m, system=system, on_green=run.design.stations[0].unit == "ft")
    if ball.done is not None:
        yes, no = YES_NO[run.design.kind]
        came = yes if ball.done else no
    elif ball.side is not None:
        slice_side, hook_side = ("left", "right") if run.test.student.left_handed else ("right", "left")
        came = {-1: hook_side, 0: "through", 1: slice_side}[ball.side]
    else:
        came = _distance(run, ball.value_m, system)
    return f"{at}: {came.lower()}"


def _distance(run: Run, metres: float, system: System) -> str:
    if system == "metres":
        said = f"{abs(metres):.1f} m"
    else:
        said = f"{abs(metres) / 0.9144:.0f} yd" if run.design.kind == "carry" else f"{abs(metres) / 0.3048:.1f} ft"
    if run.design.kind != "pace":
        return said
    return "stopped at the hole" if metres == 0 else f"{said} {'past' if metres > 0 else 'short'}"
