"""When the lessons of the demo are: every coach teaches one person at a time, in working hours."""

import random
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta

from django.utils import timezone

MONTHS = 18
LONG_AGO = round(MONTHS * 30.44)
"""Days before today on which the record begins."""

WORKING = (
    {1: (9, 15), 2: (9, 15), 3: (11, 17), 4: (9, 15), 5: (8, 13)},
    {0: (14, 19), 1: (14, 19), 2: (10, 15), 3: (14, 19), 4: (10, 14)},
    {2: (9, 14), 3: (9, 14), 4: (13, 18), 5: (8, 14), 6: (9, 13)},
    {0: (15, 20), 1: (15, 20), 3: (15, 20), 5: (9, 12)},
)
"""Weekday -> first and last hour, one week a coach; further coaches share these weeks."""

CLASS_WEEKDAY, CLASS_HOUR = 5, 10
_SEASON = {12: 1.5, 1: 1.8, 2: 1.5, 3: 1.0, 4: 0.85, 5: 0.8, 6: 0.85, 7: 1.0, 8: 1.1, 9: 0.9, 10: 1.0, 11: 1.2}
"""How much longer than usual people stay away, by month."""


def at(day: date, hour: int, minute: int = 0) -> datetime:
    """Return an hour of a day by the academy's clock."""
    return timezone.make_aware(datetime.combine(day, time(hour, minute)))


@dataclass(kw_only=True)
class Diary:
    """Which hours of which coach are taken. ``today`` is kept free: its lessons are named one by one."""

    today: date
    taken: set[tuple[int, date, int]] = field(default_factory=set)

    def hours_of(self, coach: int, day: date) -> range:
        opens = WORKING[coach % len(WORKING)].get(day.weekday())
        return range(opens[0], opens[1]) if opens else range(0)

    def take(self, *, coach: int, near: date, hour: int) -> tuple[date, int]:
        """Return a free hour on the nearest working day, as near to the wanted hour as can be, and take it."""
        for offset in (0, 1, -1, 2, -2, 3, -3, 4, -4, *range(5, 60), *range(-5, -60, -1)):
            day = near + timedelta(days=offset)
            if (day < self.today) != (near < self.today) or day == self.today:
                continue
            free = [one for one in self.hours_of(coach, day) if (coach, day, one) not in self.taken]
            if free:
                best = min(free, key=lambda one: (abs(one - hour), one))
                self.taken.add((coach, day, best))
                return day, best
        raise ValueError(f"Coach {coach} has no hour free around {near}; expected more coaches for so many students.")


def visit_days(*, rng: random.Random, today: date, first: int, last: int, gap: int) -> list[date]:
    """Return about when somebody came, oldest first: from ``first`` to ``last`` days ago, every ``gap`` days or so.

    Winter is thinner than spring, and now and then somebody stays away for a couple of months.
    """
    days, ago = [], float(last)
    while ago <= first:
        day = today - timedelta(days=round(ago))
        days.append(day)
        ago += gap * _SEASON[day.month] * rng.uniform(0.75, 1.35)
        if rng.random() < 0.03:
            ago += rng.randint(35, 80)
    return days[::-1]
