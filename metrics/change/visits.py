"""One visit's balls under one set of conditions: what every comparison is made of."""

import math
from collections.abc import Hashable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property


@dataclass(frozen=True, kw_only=True)
class Conditions:
    """Under what the balls were hit. Empty text or None means "not recorded".

    ``spec`` names the period of one club (a new shaft or grip starts a new one); ``aids`` are slugs, empty
    for none; ``windy`` True where wind was felt and the number was not corrected for it.
    """

    club: str = ""
    spec: str = ""
    intent: str = ""
    aids: tuple[str, ...] = ()
    effort_pct: float | None = None
    ball_type: str = ""
    venue_type: str = ""
    device: str = ""
    feedback_shown: bool | None = None
    windy: bool = False


@dataclass(frozen=True, kw_only=True)
class Visit:
    """The judged balls of one visit, in the order struck, for one quantity in its stored unit.

    ``day`` is a day number (``date.toordinal()``); balls of one day share one day effect. NaN marks a ball
    without this number. ``ids``, one for each value or none at all, let a ball that arrives twice count once.
    Warm-up, adaptation and (for the headline) tagged mishits are left out by the caller, not here.
    """

    day: int
    values: tuple[float, ...]
    conditions: Conditions = field(default_factory=Conditions)
    ids: tuple[Hashable, ...] = ()

    def __post_init__(self) -> None:
        if self.ids and len(self.ids) != len(self.values):
            raise ValueError(f"{len(self.values)} values came with {len(self.ids)} ids: expected one each")
        if any(math.isinf(value) for value in self.values):
            raise ValueError("an infinite value is not a measurement: expected finite numbers or NaN")

    @cached_property
    def balls(self) -> tuple[float, ...]:
        """The measured values: no NaN, no ball twice."""
        if not self.ids:
            return tuple(value for value in self.values if not math.isnan(value))
        first: dict[Hashable, float] = {}
        for key, value in zip(self.ids, self.values, strict=True):
            if not math.isnan(value):
                first.setdefault(key, value)
        return tuple(first.values())

    @property
    def n(self) -> int:
        """How many balls were measured."""
        return len(self.balls)

    @cached_property
    def mean(self) -> float:
        """The mean of the measured balls; NaN without one. Exact summation: the order cannot matter."""
        return math.fsum(self.balls) / self.n if self.n else math.nan

    @cached_property
    def squares(self) -> float:
        """The sum of squared deviations from the visit's own mean."""
        return math.fsum((value - self.mean) ** 2 for value in self.balls)


def merged_by_day(visits: Iterable[Visit]) -> tuple[Visit, ...]:
    """Return one visit for each day, in order of days; balls of the same day are joined in the order given.

    Two blocks of one day share that day's effect, so counting them as two visits would claim too much.
    Conditions must agree within a day (ValueError); split unlike ones first.
    """
    by_day: dict[int, Visit] = {}
    for visit in visits:
        earlier = by_day.get(visit.day)
        by_day[visit.day] = visit if earlier is None else _joined(earlier, visit)
    return tuple(by_day[day] for day in sorted(by_day))


def _joined(first: Visit, second: Visit) -> Visit:
    if first.conditions != second.conditions:
        raise ValueError(f"two sets of conditions on day {first.day} cannot be one visit: split them first")
    ids = first.ids + second.ids if first.ids and second.ids else ()
    if not ids and (first.ids or second.ids):
        raise ValueError(f"on day {first.day} some balls have ids and others none: expected all or none")
    return replace(first, values=first.values + second.values, ids=ids)


def mean_of_visits(visits: Sequence[Visit]) -> float:
    """Return the mean of the visits' means: every visit counts once, however many balls it has.

    The day effect is shared by all balls of a day, so a long session must not outvote the others.
    NaN without visits.
    """
    return math.fsum(visit.mean for visit in visits) / len(visits) if visits else math.nan
