"""What a person would rather look at: lessons a week, cohorts, verdicts, and each coach's own line."""

from collections import Counter, defaultdict
from dataclasses import dataclass
from datetime import date, timedelta
from math import sqrt
from typing import Any

from academy.models import Coach
from lessons.models import Lesson
from lessons.queries.roster import SHAPES, Row
from metrics.change.words import WORDS

from .teaching import due, given_minutes, open_minutes
from .world import World

FEWEST_FOR_A_COACH = 20
FOLLOW_UPS = 2
HELD = ("established", "likely")
MONTHS = 12


@dataclass(frozen=True, kw_only=True)
class Cohort:
    """Students whose first lesson fell into one quarter."""

    name: str
    size: int
    three_in_90: tuple[int, int]
    active_at_180: tuple[int, int]
    curve: list[float]
    """Share with a lesson in each 30 days after the first, as far as all of the cohort have come."""


def weeks(world: World) -> list[tuple[date, int]]:
    """Return each week's Monday and its finished lessons, a year back at most; the running week last."""
    monday = world.today - timedelta(days=world.today.weekday())
    first = max(monday - timedelta(weeks=52), min((visit.day for visit in world.visits), default=monday))
    counts = Counter(visit.day - timedelta(days=visit.day.weekday()) for visit in world.visits if visit.attended)
    found, day = [], first - timedelta(days=first.weekday())
    while day <= monday:
        found.append((day, counts[day]))
        day += timedelta(weeks=1)
    return found


def cohorts(world: World) -> list[Cohort]:
    """Return the quarters of first lessons, oldest first."""
    starts: dict[tuple[int, int], list[int]] = defaultdict(list)
    for row in world.rows:
        days = world.attended_of(row.student.pk)
        if days:
            starts[(days[0].year, (days[0].month - 1) // 3 + 1)].append(row.student.pk)
    return [_cohort(world, f"{year}, quarter {quarter}", students) for (year, quarter), students in
            sorted(starts.items())]


def _cohort(world: World, name: str, students: list[int]) -> Cohort:
    days = {student: world.attended_of(student) for student in students}
    age = {student: (world.today - days[student][0]).days for student in students}
    old_90 = [one for one in students if age[one] >= 90]
    old_180 = [one for one in students if age[one] >= 180]
    three = sum(sum((day - days[one][0]).days <= 90 for day in days[one]) >= 3 for one in old_90)
    still = sum(world.active_on(one, days[one][0] + timedelta(days=180)) for one in old_180)
    months = min(MONTHS, min(age.values()) // 30)
    curve = [
        sum(any(30 * month <= (day - days[one][0]).days < 30 * (month + 1) for day in days[one]) for one in students)
        / len(students) for month in range(months)
    ]
    return Cohort(name=name, size=len(students), three_in_90=(three, len(old_90)),
                  active_at_180=(still, len(old_180)), curve=curve)


def followed(world: World) -> list[Row]:
    """Return the students with at least two follow-ups; the spread speaks of nobody else."""
    return [row for row in world.rows if row.return_visits >= FOLLOW_UPS]


def spread(world: World) -> list[dict[str, Any]]:
    """Return how many stand at each verdict, “can't tell” openly among them."""
    counts = Counter(row.verdict or "cannot_tell" for row in followed(world))
    total = sum(counts.values())
    return [
        {"verdict": key, "word": WORDS.get(key, key), "shape": shape, "n": counts[key],
         "share": counts[key] / total if total else 0.0}
        for key, shape in SHAPES.items()
    ]


def coach_lines(world: World) -> list[dict[str, Any]]:
    """Return each coach's own line, by name; nobody is ranked. What held is beside what students of the same level,
    age and number of visits did in the whole academy, and is not shown below twenty of them."""
    names: dict[int, Coach] = {row.student.coach_id: row.student.coach for row in world.rows}
    given, open_ = given_minutes(world), open_minutes(world)
    expected = _expected(world)
    lines = []
    for pk, coach in sorted(names.items(), key=lambda pair: str(pair[1])):
        own = [visit for visit in due(world) if visit.coach == pk]
        missed = sum(visit.status == Lesson.Status.NO_SHOW for visit in own)
        came = sum(visit.attended for visit in own)
        lines.append({
            "coach": coach, "hours": given.get(pk, 0) / 60, "open_hours": open_[pk] / 60 if pk in open_ else None,
            "missed": missed, "due": missed + came, "late": sum(visit.late for visit in own),
            "held": _held(world, [row for row in followed(world) if row.student.coach_id == pk], expected),
        })
    return lines


def _stratum(world: World, row: Row) -> tuple[str, bool, bool]:
    index = row.student.handicap_index
    level = "beginner" if row.student.is_beginner or index is None else "low" if index < 12 else "high"
    return level, world.is_junior(row.student), row.visits >= 6


def _expected(world: World) -> dict[tuple, float]:
    found: dict[tuple, list[bool]] = defaultdict(list)
    for row in followed(world):
        found[_stratum(world, row)].append(row.verdict in HELD)
    return {stratum: sum(held) / len(held) for stratum, held in found.items()}


def _held(world: World, rows: list[Row], expected: dict[tuple, float]) -> dict[str, Any] | None:
    """None below twenty students. Chance is twice the standard deviation of a sum of independent students."""
    if len(rows) < FEWEST_FOR_A_COACH:
        return None
    shares = [expected[_stratum(world, row)] for row in rows]
    seen, usual = sum(row.verdict in HELD for row in rows), sum(shares)
    chance = 2 * sqrt(sum(share * (1 - share) for share in shares))
    return {"seen": seen, "n": len(rows), "usual": usual, "by_chance": abs(seen - usual) <= chance}
