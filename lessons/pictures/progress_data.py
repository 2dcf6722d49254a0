"""What a progress panel shows, as plain data, and the same in words for those who read instead of look."""

import datetime
from dataclasses import dataclass

from .svg import plain, signed, with_unit


@dataclass(frozen=True, kw_only=True)
class Visit:
    """One visit's dot. ``mean`` None means too few balls: n is printed, nothing is drawn for it.

    ``change`` names what else was different (new club, other venue, device, injury), or is empty.
    """

    day: datetime.date
    n: int
    mean: float | None = None
    interval: tuple[float, float] | None = None
    aided: bool = False
    change: str = ""


@dataclass(frozen=True, kw_only=True)
class Panel:
    """One quantity over the visits. ``noise`` is the minimum detectable change around ``noise_about``.

    ``noise_about`` is the baseline, by default the first mean. ``turns`` are the days on which something was changed.
    """

    label: str
    unit: str
    visits: tuple[Visit, ...]
    window: tuple[float, float] | None = None
    noise: float | None = None
    noise_about: float | None = None
    turns: tuple[datetime.date, ...] = ()
    digits: int = 1
    with_sign: bool = True
    from_zero: bool = False
    key: str = "progress"

    @property
    def days(self) -> list[datetime.date]:
        """The days on which there is anything to draw, each once."""
        return sorted({visit.day for visit in self.visits})

    @property
    def baseline(self) -> float | None:
        """What the detectable change is drawn around."""
        if self.noise_about is not None:
            return self.noise_about
        return next((visit.mean for visit in self.visits if visit.mean is not None), None)


MOST_SAID = 16
"""So many blocks are said one by one; of more, who listens gets the span and the newest; the table has all."""


def describe(panel: Panel) -> str:
    """Say the visits in words: every block, or where there are very many the newest of them."""
    rows = [f"{row['day']}: {row['value']}, {row['aids']}" for row in table(panel)]
    if not rows:
        return f"{panel.label}. No visit yet."
    if len(rows) <= MOST_SAID:
        return f"{panel.label}. " + "; ".join(rows) + "."
    first = panel.visits[0].day
    return (f"{panel.label}. {len(rows)} blocks since {first.day} {first:%b %Y}, all of them in the table below. "
            f"The newest: {'; '.join(rows[-6:])}.")


def table(panel: Panel) -> list[dict[str, str]]:
    """The same panel as rows of words, for the table under the picture: day, value, interval, n, aids."""
    write = signed if panel.with_sign else plain
    rows = []
    for visit in panel.visits:
        known = visit.mean is not None
        rows.append({
            "day": f"{visit.day.day} {visit.day:%b %Y}",
            "value": with_unit(write(visit.mean, panel.digits), panel.unit) if known
            else "not enough balls yet",
            "interval": " to ".join(write(edge, panel.digits) for edge in visit.interval)
            if known and visit.interval else "",
            "n": str(visit.n),
            "aids": "with aids" if visit.aided else "no aids",
            "change": visit.change,
        })
    return rows
