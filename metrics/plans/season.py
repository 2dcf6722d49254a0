"""A year of weeks: change while nobody plays, contact before the season, maintain during it, review after."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from metrics.plans.types import NO_CHANGE_DAYS, Event

Phase = Literal["change", "contact", "maintain", "review"]
TITLES: dict[Phase, str] = {
    "change": "Off-season: the change", "contact": "Pre-season: contact and wedges", "maintain": "In season: maintain",
    "review": "Review and fitting",
}
WHY: dict[Phase, str] = {
    "change": "Eight to twelve weeks without cards are the time a change needs; expect a dip at first.",
    "contact": "Before cards count: clean contact, wedges to three distances, no new idea.",
    "maintain": "First ten once a month; the rest is playing and the short game.",
    "review": "Battery, report, clubs measured; the next change is chosen here.",
}
CHANGE_WEEKS, CONTACT_WEEKS, REVIEW_WEEKS = 12, 6, 4
BATTERY_EVERY_WEEKS = 10
"""Every 8 to 12 weeks, and not in a week without change. Common practice."""
FIRST_TEN_EVERY_WEEKS = 4


@dataclass(frozen=True, kw_only=True)
class SeasonWeek:
    """One week from its Monday: its phase, what stands in it, the event that forbids changes ("" for none)."""

    monday: date
    phase: Phase
    no_change: str
    does: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class Season:
    """The weeks of a season plan, in order, with the reasons of its phases."""

    weeks: tuple[SeasonWeek, ...]

    @property
    def phases(self) -> tuple[tuple[Phase, date, date], ...]:
        """Each stretch of one phase: the phase, its first Monday and the Sunday it ends with."""
        found: list[tuple[Phase, date, date]] = []
        for week in self.weeks:
            end = week.monday + timedelta(days=6)
            if found and found[-1][0] == week.phase:
                found[-1] = (week.phase, found[-1][1], end)
            else:
                found.append((week.phase, week.monday, end))
        return tuple(found)


def plan_season(*, start: date, first_month: int = 4, last_month: int = 9, weeks: int = 52,
                events: Sequence[Event] = ()) -> Season:
    """Return the weeks from the Monday on or before ``start``.

    The season in which cards are played runs from ``first_month`` to ``last_month`` (1 to 12, over New Year too). The
    6 weeks before it are for contact, the 4 after it for the review; what is left is for the change, 12 weeks of it at
    most, the nearest to the contact weeks. Raises ValueError for a month or a number of weeks (1 to 104) that is not.
    """
    if not (1 <= first_month <= 12 and 1 <= last_month <= 12):
        raise ValueError(f"months {first_month} and {last_month} were given; expected 1 to 12")
    if not 1 <= weeks <= 104:
        raise ValueError(f"{weeks} weeks were given; expected 1 to 104")
    monday = start - timedelta(days=start.weekday())
    mondays = [monday + timedelta(weeks=place) for place in range(weeks)]
    found: list[SeasonWeek] = []
    last_battery = -BATTERY_EVERY_WEEKS
    for place, day in enumerate(mondays):
        phase, near = _phase(day, first_month, last_month), _no_change(day, events)
        due = place - last_battery >= BATTERY_EVERY_WEEKS and not near
        last_battery = place if due else last_battery
        found.append(SeasonWeek(monday=day, phase=phase, no_change=near, does=_does(phase, day, due, near, events)))
    return Season(weeks=tuple(found))


def _phase(monday: date, first_month: int, last_month: int) -> Phase:
    if _in_season(monday, first_month, last_month):
        return "maintain"
    ahead = next((n for n in range(1, 54) if _in_season(monday + timedelta(weeks=n), first_month, last_month)), 54)
    behind = next((n for n in range(1, 54) if _in_season(monday - timedelta(weeks=n), first_month, last_month)), 54)
    if ahead <= CONTACT_WEEKS:
        return "contact"
    if behind <= REVIEW_WEEKS:
        return "review"
    return "change" if ahead <= CONTACT_WEEKS + CHANGE_WEEKS else "review"


def _in_season(day: date, first_month: int, last_month: int) -> bool:
    if first_month <= last_month:
        return first_month <= day.month <= last_month
    return day.month >= first_month or day.month <= last_month


def _no_change(monday: date, events: Sequence[Event]) -> str:
    """Return the event that forbids a change on any day of this week: it lies in it, or within four weeks after it."""
    sunday = monday + timedelta(days=6)
    near = [event for event in events if monday <= event.day <= sunday + timedelta(days=NO_CHANGE_DAYS)]
    return min(near, key=lambda event: event.day).name if near else ""


def _does(phase: Phase, monday: date, battery: bool, near: str, events: Sequence[Event]) -> tuple[str, ...]:
    sunday = monday + timedelta(days=6)
    found = [f"{event.name} ({event.day:%d %b})" for event in events if monday <= event.day <= sunday]
    if battery:
        found.append("Test battery")
    if near:
        found.append("No change; play, short game, first ten")
    elif phase == "maintain" and monday.day <= 7:
        found.append("First ten of the month")
    return tuple(found)
