"""Calendar files for other programs (RFC 5545): the same event keeps its uid, a changed one raises its sequence.

Moments are written in UTC, so that no reader has to know a time zone's rules to show the right hour; a whole day is
written as a date. Pure: rows in, bytes out.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from typing import TYPE_CHECKING

if TYPE_CHECKING:  # the library takes a tenth of a second to load: only where a calendar is written
    from icalendar import Event as CalendarEvent
    from icalendar import vCalAddress

PRODUCT = "-//Holdfast//Holdfast//EN"
KIND = "text/calendar; charset=utf-8"


@dataclass(frozen=True, kw_only=True)
class Event:
    """One entry. ``starts`` is an aware moment, or a date for a whole day (then ``minutes`` is ignored).

    ``sequence`` counts the changes that the reader must notice: 0 at first, one more for each new moment, length,
    place or cancellation. ``changed_at`` is the moment of the last such change.
    """

    uid: str
    starts: datetime | date
    summary: str
    changed_at: datetime
    minutes: int = 60
    sequence: int = 0
    cancelled: bool = False
    description: str = ""
    location: str = ""
    organizer: tuple[str, str] | None = None
    """Name and mail address; RFC 5546 asks for one wherever the file names a method."""


def calendar_bytes(*, events: Iterable[Event], name: str, method: str = "") -> bytes:
    """Return a calendar with these events. Raises ValueError for a moment without its time zone.

    Without a method it is a feed to be read again and again; PUBLISH or CANCEL make it a message about its events.
    """
    from icalendar import Calendar

    calendar = Calendar()
    calendar.add("prodid", PRODUCT)
    calendar.add("version", "2.0")
    if method:
        calendar.add("method", method)
    calendar.add("x-wr-calname", name)
    for event in events:
        calendar.add_component(_component(event))
    return calendar.to_ical()


def _component(event: Event) -> "CalendarEvent":
    from icalendar import Event as CalendarEvent

    found = CalendarEvent()
    found.add("uid", event.uid)
    found.add("dtstamp", _utc(event.changed_at))
    found.add("last-modified", _utc(event.changed_at))
    found.add("sequence", event.sequence)
    if isinstance(event.starts, datetime):
        starts = _utc(event.starts)
        found.add("dtstart", starts)
        found.add("dtend", starts + timedelta(minutes=event.minutes))
    else:
        found.add("dtstart", event.starts)
        found.add("dtend", event.starts + timedelta(days=1))
    found.add("summary", event.summary)
    found.add("status", "CANCELLED" if event.cancelled else "CONFIRMED")
    if event.organizer:
        found.add("organizer", _address(*event.organizer))
    for key, text in (("description", event.description), ("location", event.location)):
        if text:
            found.add(key, text)
    return found


def _address(name: str, mail: str) -> "vCalAddress":
    from icalendar import vCalAddress

    address = vCalAddress(f"mailto:{mail}")
    address.params["cn"] = name
    return address


def _utc(moment: datetime) -> datetime:
    if moment.tzinfo is None:
        raise ValueError(f"{moment} has no time zone; expected an aware moment.")
    return moment.astimezone(UTC).replace(microsecond=0)
