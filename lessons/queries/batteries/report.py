"""Two batteries side by side: each number with its interval and its balls, the change, and a word for it.

The word is the one “Did it hold?” and the short game give; a battery is one visit a side, so none is "established".
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from academy.models import Student
from lessons.models import Battery
from metrics.plans.battery import LOOK_WORDS, LOOKS
from metrics.units import System

from .balls import block_rows
from .done import Done, done_in
from .rows import Row
from .runs import run_rows


@dataclass(frozen=True, kw_only=True)
class Group:
    """The numbers of one measure; without rows, ``missing`` says why."""

    title: str
    rows: tuple[Row, ...]
    missing: str = ""


def report_of(
    *, battery: Battery, against: Battery | None, earlier: list[Battery], system: System
) -> dict[str, Any]:
    """Return the report of a battery, beside an earlier one where there is one.

    About ten queries, and two for each number that both have; independent of the number of visits.
    """
    now, before = done_in(battery), done_in(against) if against else []
    then = {one.measure.key: one for one in before}
    groups = [_group(one, then.get(one.measure.key), battery.student, system) for one in now]
    return {
        "battery": battery, "against": against, "student": battery.student, "groups": groups,
        "looks": _looks(battery, against), "asked": battery.asked, "earlier": earlier,
        "words": _counted(groups) if against else "",
    }


def earlier_of(battery: Battery) -> list[Battery]:
    """Return the finished batteries before this one, newest first. One query."""
    rows = battery.student.batteries.filter(removed_at__isnull=True, finished_on__isnull=False)
    newest_first = rows.order_by("-begun_on", "-pk")
    return [one for one in newest_first if (one.begun_on, one.pk) < (battery.begun_on, battery.pk)]


def _group(now: Done, before: Done | None, student: Student, system: System) -> Group:
    if not now.balls:
        return Group(title=now.measure.title, rows=(), missing="not measured this time")
    if now.run is not None:
        rows = run_rows(now=now.run, before=before.run if before else None, system=system)
    else:
        rows = block_rows(now=now.block, before=before.block if before else None, student=student, system=system)
    return Group(title=now.measure.title, rows=tuple(rows), missing="" if rows else "called by eye, no numbers")


def _looks(battery: Battery, against: Battery | None) -> list[dict[str, str]]:
    before = against.looked if against else {}
    return [
        {"title": look.title, "now": LOOK_WORDS.get(battery.looked.get(look.key, ""), "–"),
         "before": LOOK_WORDS.get(before.get(look.key, ""), "–")}
        for look in LOOKS if look.key in battery.looked or look.key in before
    ]


def _counted(groups: Iterable[Group]) -> str:
    """Return the headline: how many numbers moved, and how many cannot be told from luck."""
    rows = [row for group in groups for row in group.rows if row.word]
    if not rows:
        return "No number stands in both batteries yet."
    better, worse = (sum(row.went == way for row in rows) for way in ("better", "worse"))
    same = len(rows) - better - worse
    return f"Of {len(rows)} numbers in both: {better} better, {worse} less good, {same} not to be told from luck."
