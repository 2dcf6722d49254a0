"""Each coach's own line, by name. What held is compared fairly, or not at all."""

from collections import defaultdict
from math import sqrt
from typing import Any

from academy.models import Coach
from lessons.models import Lesson
from lessons.queries.roster import Row

from .tables import followed
from .teaching import given_minutes, open_minutes
from .world import World

FEWEST_FOR_A_COACH = 20
HELD = ("established", "likely")
Stratum = tuple[str, bool, bool]


def coach_lines(world: World) -> list[dict[str, Any]]:
    """Return each coach's own line, by name; nobody is ranked. What held is beside what students of the same level,
    age and number of visits did in the whole academy, and is not shown below twenty of them or without others."""
    names: dict[int, Coach] = {row.student.coach_id: row.student.coach for row in world.everybody}
    given, open_ = given_minutes(world), open_minutes(world)
    strata = _strata(world)
    every, lines = world.due, []
    for pk, coach in sorted(names.items(), key=lambda pair: str(pair[1])):
        own = [visit for visit in every if visit.coach == pk]
        missed = sum(visit.status == Lesson.Status.NO_SHOW for visit in own)
        came = sum(visit.attended for visit in own)
        lines.append({
            "coach": coach, "hours": given.get(pk, 0) / 60, "open_hours": open_[pk] / 60 if pk in open_ else None,
            "missed": missed, "due": missed + came, "late": sum(visit.late for visit in own),
            "held": _held(pk, strata),
        })
    return lines


def _stratum(world: World, row: Row) -> Stratum:
    index = row.student.handicap_index
    level = "beginner" if row.student.is_beginner or index is None else "low" if index < 12 else "high"
    return level, world.is_junior(row.student), row.visits >= 6


def _strata(world: World) -> dict[Stratum, list[tuple[int, bool]]]:
    """Return coach and “it held” of each student with two follow-ups, those alike together."""
    found: dict[Stratum, list[tuple[int, bool]]] = defaultdict(list)
    for row in followed(world):
        found[_stratum(world, row)].append((row.student.coach_id, row.verdict in HELD))
    return found


def _held(coach: int, strata: dict[Stratum, list[tuple[int, bool]]]) -> dict[str, Any] | None:
    """Compare what held with what chance would give this coach of all who are alike; None below twenty students.

    Students without anybody else's beside them cannot be compared and are left out. Number expected and its variance
    are those of Mantel and Haenszel (Journal of the National Cancer Institute 22:719, 1959), from memory; chance is
    twice the standard deviation.
    """
    seen, n, usual, variance = 0, 0, 0.0, 0.0
    for alike in strata.values():
        own = [held for pk, held in alike if pk == coach]
        others = len(alike) - len(own)
        if not own or not others:
            continue
        held = sum(one for _, one in alike)
        seen, n, usual = seen + sum(own), n + len(own), usual + len(own) * held / len(alike)
        variance += len(own) * others * held * (len(alike) - held) / (len(alike) ** 2 * (len(alike) - 1))
    if n < FEWEST_FOR_A_COACH:
        return None
    return {"seen": seen, "n": n, "usual": usual, "by_chance": abs(seen - usual) <= 2 * sqrt(variance)}
