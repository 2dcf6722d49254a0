"""Students by when they first came: who came again within 90 days, who is still there after 180, and the curves."""

from collections import defaultdict
from dataclasses import dataclass
from datetime import date, timedelta

from .world import World

MONTHS = 12
LINES = 6
"""More lines than these are not told apart in one picture."""
FEWEST_IN_A_LINE = 5


@dataclass(frozen=True, kw_only=True)
class Cohort:
    """Students whose first lesson fell into one month or one quarter."""

    name: str
    size: int
    three_in_90: tuple[int, int]
    active_at_180: tuple[int, int]
    curve: list[float]
    """Share with a lesson in each 30 days after the first, as far as all of the cohort have come."""


def cohorts(world: World) -> list[Cohort]:
    """Return the months of first lessons, oldest first."""
    return [_cohort(world, f"{date(year, month, 1):%B %Y}", students)
            for (year, month), students in _by_start(world, lambda day: (day.year, day.month))]


def curves(world: World) -> list[Cohort]:
    """Return the latest quarters that a picture can show: months are too few people for a line."""
    quarters = [_cohort(world, f"{year}, quarter {quarter}", students) for (year, quarter), students in
                _by_start(world, lambda day: (day.year, (day.month - 1) // 3 + 1))]
    return [one for one in quarters if one.size >= FEWEST_IN_A_LINE and one.curve][-LINES:]


def _by_start(world: World, place) -> list[tuple[tuple[int, int], list[int]]]:
    starts: dict[tuple[int, int], list[int]] = defaultdict(list)
    for row in world.everybody:
        days = world.attended_of(row.student.pk)
        if days:
            starts[place(days[0])].append(row.student.pk)
    return sorted(starts.items())


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
