"""Which sitting falls on which day, from the weekdays somebody has chosen."""

from collections.abc import Collection
from datetime import date, timedelta


def days_of_week(*, sittings: int, first: date, weekdays: Collection[int]) -> tuple[date, ...]:
    """Return the day of each sitting of the seven days from ``first``, in order.

    ``weekdays``: 0 Monday to 6 Sunday. Fewer sittings than days spread over them, more share a day. Empty where no
    day is chosen. Raises ValueError for a weekday outside 0 to 6 or a negative number of sittings.

    >>> [day.day for day in days_of_week(sittings=2, first=date(2026, 5, 4), weekdays=(0, 2, 4, 5))]
    [4, 8]
    """
    if sittings < 0 or any(day not in range(7) for day in weekdays):
        raise ValueError(f"{sittings} sittings on {sorted(weekdays)}; expected 0 or more, on days from 0 to 6")
    chosen = set(weekdays)
    days = [day for day in (first + timedelta(days=ahead) for ahead in range(7)) if day.weekday() in chosen]
    return tuple(days[place * len(days) // sittings] for place in range(sittings)) if days else ()
