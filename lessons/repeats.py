"""The same hour every week by the academy's clock, across the nights when the clocks change."""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo


@dataclass(frozen=True, kw_only=True)
class Repeats:
    """Aware moments, and a sentence for each week that could not have its hour."""

    moments: list[datetime]
    skipped: list[str]


def weekly(*, first: datetime, times: int, every: int = 1, zone: ZoneInfo) -> Repeats:
    """Return ``times`` moments, ``every`` so many weeks, all at the same hour on the clock of ``zone``.

    An hour that a clock change skips is left out and named; one that comes twice is taken the first time.
    ``first`` is an aware moment, ``times`` and ``every`` are at least 1; ValueError otherwise.
    """
    if times < 1 or every < 1:
        raise ValueError(f"times and every must be 1 or more, got {times} and {every}.")
    on_the_clock = first.astimezone(zone).replace(tzinfo=None, fold=0)
    moments, skipped = [], []
    for number in range(times):
        wanted = on_the_clock + timedelta(weeks=number * every)
        moment = wanted.replace(tzinfo=zone)
        if not exists(moment):
            skipped.append(f"{wanted:%-d %B %Y, %H:%M} does not exist: the clocks go forward that night.")
            continue
        moments.append(first if number == 0 else moment)
    return Repeats(moments=moments, skipped=skipped)


def exists(moment: datetime) -> bool:
    """Say whether a moment's wall-clock time occurs in its own zone."""
    back = moment.astimezone(UTC).astimezone(moment.tzinfo)
    return back.replace(tzinfo=None, fold=0) == moment.replace(tzinfo=None, fold=0)
