"""The page of the academy's figures, and the same as a table that can be handed on."""

from typing import Any

from django.http import QueryDict

from academy.models import Coach
from lessons.imports.export import csv_bytes
from lessons.pictures import bars

from . import people, tables
from .measures import MEASURES, Figure, figures
from .world import WHO, WINDOWS, Filters, World

FEW = 5
SUPPRESSED = "fewer than 5"


def filters_from(asked: QueryDict) -> Filters:
    """Return what the address asks for; what makes no sense falls back to the usual."""
    days = asked.get("days", "")
    who = asked.get("who", "")
    return Filters(
        coach=asked.get("coach", ""), who=who if who in WHO else "",
        days=next((window for window in WINDOWS if str(window) == days), 90),
    )


def page(*, world: World, coaches: list[Coach], show: str) -> dict[str, Any]:
    """Return the figures by topic, the pictures with their tables, and the list behind the one that is shown."""
    every = figures(world)
    topics: dict[str, list[Figure]] = {}
    for figure in every:
        topics.setdefault(figure.measure.topic, []).append(figure)
    chosen = next((figure for figure in every if figure.measure.key == show), None)
    listed = set(chosen.count.students) if chosen else set()
    weeks, cohorts, spread = tables.weeks(world), tables.cohorts(world), tables.spread(world)
    return {
        "topics": topics, "chosen": chosen, "coaches": coaches, "windows": WINDOWS, "who": WHO,
        "filters": world.filters, "rows": [_line(world, row) for row in world.rows if row.student.pk in listed],
        "weeks": weeks, "weeks_picture": bars.draw(bars.Bars(
            title="Finished lessons a week", key="weeks", unit="lessons",
            values=tuple((f"{day:%-d %b}", count) for day, count in weeks))),
        "cohorts": cohorts, "cohorts_picture": bars.curves(bars.Curves(
            title="Students with a lesson, month by month after their first", key="cohorts",
            lines=tuple((one.name, one.size, tuple(one.curve)) for one in cohorts if one.size >= FEW and one.curve))),
        "spread": spread, "followed": sum(row["n"] for row in spread), "spread_picture": bars.draw(bars.Bars(
            title="Where students with two follow-ups or more stand", key="spread", unit="students", lying=True,
            values=tuple((row["word"], row["n"]) for row in spread))),
        "coach_lines": tables.coach_lines(world), "fewest": tables.FEWEST_FOR_A_COACH,
        "incidents": [one for one in world.incidents if one.closed_on is None],
    }


def figures_csv(world: World) -> bytes:
    """Return every figure as a table. A share that a small count would give away is left out with it."""
    every = figures(world)
    return csv_bytes({
        "Figure": [one.measure.name for one in every], "Topic": [one.measure.topic for one in every],
        "Counted": [_cell(one.count.top) for one in every], "Out of": [_cell(one.count.bottom) for one in every],
        "Ratio": [_ratio(one) for one in every], "Unit of the ratio": [one.count.unit for one in every],
        "Window": [one.window for one in every], "Definition": [one.measure.formula for one in every],
        "Source": [one.measure.source for one in every],
    })


def cohorts_csv(world: World) -> bytes:
    """Return the cohorts as a table, small cells left out."""
    every = tables.cohorts(world)
    return csv_bytes({
        "First lesson in": [one.name for one in every], "Students": [_cell(one.size) for one in every],
        "Three lessons within 90 days": [_cell(one.three_in_90[0]) for one in every],
        "out of": [_cell(one.three_in_90[1]) for one in every],
        "Active at 180 days": [_cell(one.active_at_180[0]) for one in every],
        "out of these": [_cell(one.active_at_180[1]) for one in every],
    })


def _line(world: World, row: Any) -> dict[str, Any]:
    days = world.attended_of(row.student.pk)
    left = world.left.get(row.student.pk)
    return {
        "row": row, "last": days[-1] if days else None, "left": left.lessons if left and left.ever else None,
        "signs": [word for word, there in zip(people.SIGNS, people.signs(world, row), strict=True) if there],
    }


def _cell(value: float) -> str | float:
    return SUPPRESSED if 0 < value < FEW else value


def _ratio(one: Figure) -> float | str | None:
    """A ratio is given only where neither of its counts, nor the rest, is small."""
    count = one.count
    rest = count.bottom - count.top if count.unit == "%" else 0
    if any(0 < value < FEW for value in (count.top, count.bottom, rest)):
        return SUPPRESSED
    return None if count.share is None else round(count.share, 1)


__all__ = ["MEASURES", "cohorts_csv", "figures_csv", "filters_from", "page"]
