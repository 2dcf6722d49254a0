"""What repeated setups without a ball say: their values by checkpoint, for the page and for the rules."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime

from metrics.address import SHOULDERS_TO_FEET
from metrics.intervals import mean_estimate

from .models import Lesson, SetupLook, SetupSeries

FEWEST = 5
"""Setups before their mean and SD count as evidence. A choice."""


@dataclass(frozen=True, kw_only=True)
class Repeated:
    """Mean and SD by checkpoint over one series, and when it was last added to."""

    mean: Mapping[str, float]
    sd: Mapping[str, float]
    at: datetime | None = None


def looks_of(series: SetupSeries) -> list[SetupLook]:
    """Return the numbers of a series in order. One query."""
    return list(series.looks.filter(removed_at__isnull=True).order_by("number", "pk"))


def values_of(looks: Iterable[SetupLook]) -> dict[str, list[float]]:
    """Return one value a setup by checkpoint; shoulders less feet where one setup has both."""
    setups: dict[int, dict[str, float]] = defaultdict(dict)
    for look in looks:
        setups[look.number][look.checkpoint] = look.value
    found: dict[str, list[float]] = defaultdict(list)
    for _, seen in sorted(setups.items()):
        for checkpoint, value in seen.items():
            found[checkpoint].append(value)
        if {"shoulders_deg", "feet_deg"} <= seen.keys():
            found[SHOULDERS_TO_FEET].append(seen["shoulders_deg"] - seen["feet_deg"])
    return dict(found)


def repeated_in(*, lesson: Lesson, category: str) -> Repeated:
    """Return what the lesson's newest series without aids says of a kind of club. Two queries.

    Checkpoints seen in fewer than five setups are left out: a mean of two looks proves nothing.
    """
    series = lesson.setup_series.filter(category=category, aids=[], removed_at__isnull=True).last()
    looks = looks_of(series) if series else []
    found = {key: mean_estimate(values=values) for key, values in values_of(looks).items() if len(values) >= FEWEST}
    return Repeated(
        mean={key: one.mean for key, one in found.items()}, sd={key: one.sd for key, one in found.items()},
        at=max((look.created_at for look in looks), default=None),
    )
