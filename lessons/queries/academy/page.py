"""The page of the academy's figures."""

from typing import Any

from django.http import QueryDict

from academy.models import Coach
from academy.paging import paged
from lessons.pictures import bars
from lessons.queries.monday.causes import last_said

from . import people, tables
from .cohorts import Cohort, cohorts, curves
from .comparison import FEWEST_FOR_A_COACH, coach_lines
from .measures import Figure, figures
from .world import WHO, WINDOWS, Filters, World

CALLED = ("overdue", "lapse", "retention", "unbooked")
"""The lists from which somebody is called; what was last said stands beside them."""


def filters_from(asked: QueryDict) -> Filters:
    """Return what the address asks for; what makes no sense falls back to the usual."""
    days = asked.get("days", "")
    who = asked.get("who", "")
    return Filters(
        coach=asked.get("coach", ""), who=who if who in WHO else "",
        days=next((window for window in WINDOWS if str(window) == days), 90),
    )


def page(*, world: World, viewer: Coach, coaches: list[Coach], asked: QueryDict) -> dict[str, Any]:
    """Return the figures by topic, the pictures with their tables, and the list behind the one that is shown."""
    every = figures(world)
    topics: dict[str, list[Figure]] = {}
    for figure in every:
        topics.setdefault(figure.measure.topic, []).append(figure)
    chosen = next((figure for figure in every if figure.measure.key == asked.get("show")), None)
    return {
        "topics": topics, "chosen": chosen, "coaches": coaches, "windows": WINDOWS, "who": WHO,
        "filters": world.filters, "list": behind(world, viewer, chosen, asked) if chosen else None,
        "calls": chosen is not None and chosen.measure.key in CALLED,
        **_pictures(world), "cohorts": cohorts(world)[-24:], "coach_lines": coach_lines(world),
        "by_number": tables.spread_by_number(world), "fewest": FEWEST_FOR_A_COACH,
    }


def behind(world: World, viewer: Coach, chosen: Figure, asked: QueryDict) -> Any:
    """Return one page of the students behind a figure, each with what was last said. One query."""
    listed = set(chosen.count.students)
    shown = paged([row for row in world.everybody if row.student.pk in listed], asked)
    said = last_said(viewer, {row.student.pk for row in shown}) if chosen.measure.key in CALLED else {}
    shown.object_list = [_line(world, row, said.get(row.student.pk, "")) for row in shown]
    return shown


def _pictures(world: World) -> dict[str, Any]:
    weeks, lines, spread = tables.weeks(world), curves(world), tables.spread(world)
    return {
        "weeks": weeks, "weeks_picture": bars.draw(bars.Bars(
            title="Finished lessons a week", key="weeks", unit="lessons",
            values=tuple((f"{day:%-d %b}", count) for day, count in weeks))),
        "curves": _table(lines), "cohorts_picture": bars.curves(bars.Curves(
            title="Students with a lesson, month by month after their first", key="cohorts",
            lines=tuple((one.name, one.size, tuple(one.curve)) for one in lines))),
        "spread": spread, "followed": sum(row["n"] for row in spread), "spread_picture": bars.draw(bars.Bars(
            title="Where students with two follow-ups or more stand", key="spread", unit="students", lying=True,
            values=tuple((row["word"], row["n"]) for row in spread))),
    }


def _table(lines: list[Cohort]) -> dict[str, Any]:
    """Return the curves as a table: one column a month, empty where a cohort has not come so far."""
    longest = max((len(one.curve) for one in lines), default=0)
    return {"months": range(1, longest + 1), "rows": [
        (one, [round(100 * share) for share in one.curve] + [None] * (longest - len(one.curve))) for one in lines]}


def _line(world: World, row: Any, said: str) -> dict[str, Any]:
    days = world.attended_of(row.student.pk)
    left = world.left.get(row.student.pk)
    return {
        "row": row, "last": days[-1] if days else None, "left": left.lessons if left and left.ever else None,
        "signs": [word for word, there in zip(people.SIGNS, people.signs(world, row), strict=True) if there],
        "said": said,
    }
