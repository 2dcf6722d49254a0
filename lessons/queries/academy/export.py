"""The figures as tables that can be handed on: counts below five, and what would give them away, are left out."""

from lessons.imports.export import csv_bytes
from lessons.queries.roster import SHAPES
from metrics.change.words import WORDS

from . import tables
from .cohorts import cohorts
from .count import Count
from .measures import Figure, figures
from .world import World

FEW = 5
SUPPRESSED = "left out (fewer than 5)"
"""The same for a small count and for one whose rest is small: two words would tell which of them it is."""
Cell = str | float | None


def figures_csv(world: World) -> bytes:
    """Return every figure as a table."""
    every = figures(world)
    now, then = [told(one.count) for one in every], [_before(one) for one in every]
    return csv_bytes({
        "Figure": [one.measure.name for one in every], "Topic": [one.measure.topic for one in every],
        "Counted": [row[0] for row in now], "Out of": [row[1] for row in now], "Ratio": [row[2] for row in now],
        "Unit of the ratio": [one.count.unit for one in every],
        "Counted a year before": [row[0] for row in then], "Out of, a year before": [row[1] for row in then],
        "Window": [one.window for one in every], "Definition": [one.measure.formula for one in every],
        "Source": [one.measure.source for one in every],
    })


def cohorts_csv(world: World) -> bytes:
    """Return the cohorts by month as a table."""
    every = cohorts(world)
    three, still = [pair(*one.three_in_90) for one in every], [pair(*one.active_at_180) for one in every]
    return csv_bytes({
        "First lesson in": [one.name for one in every], "Students": [cell(one.size) for one in every],
        "Three lessons within 90 days": [row[0] for row in three], "out of": [row[1] for row in three],
        "Active at 180 days": [row[0] for row in still], "out of these": [row[1] for row in still],
    })


def spread_csv(world: World) -> bytes:
    """Return where students with two follow-ups stand, by the number in work."""
    every = tables.spread_by_number(world)
    rows = [parts(row["counts"]) for row in every]
    return csv_bytes({
        "Number in work": [row["number"] for row in every], "Students": [whole for _, whole in rows],
        **{WORDS.get(key, key): [cells[place] for cells, _ in rows] for place, key in enumerate(SHAPES)},
    })


def cell(value: float) -> Cell:
    """Return a count, or that it is left out."""
    return SUPPRESSED if 0 < value < FEW else value


def pair(top: float, bottom: float) -> tuple[Cell, Cell]:
    """Return a part and its whole; a part whose rest is small would tell the rest, so it is left out."""
    return SUPPRESSED if 0 < bottom - top < FEW else cell(top), cell(bottom)


def parts(counts: list[int]) -> tuple[list[Cell], Cell]:
    """Return the parts of a whole and the whole; beside a part that is left out the whole would tell it."""
    cells = [cell(one) for one in counts]
    return cells, SUPPRESSED if SUPPRESSED in cells else cell(sum(counts))


def told(count: Count) -> tuple[Cell, Cell, Cell]:
    """Return counted, out of, and the ratio of a figure, as far as they may be told.

    A share may be told only where neither of its counts nor the rest is small. Money is told unless it stands for
    few lessons; whatever is measured against few is left out with them.
    """
    if count.unit == "%":
        top, bottom = pair(count.top, count.bottom)
    else:
        few = 0 < count.bottom < FEW
        top, bottom = SUPPRESSED if few else cell(count.top), cell(count.bottom)
    if isinstance(top, str) or isinstance(bottom, str):
        return top, bottom, SUPPRESSED
    return top, bottom, None if count.share is None else round(count.share, 1)


def _before(one: Figure) -> tuple[Cell, Cell]:
    return told(one.before)[:2] if one.before is not None else (None, None)
