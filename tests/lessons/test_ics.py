"""Calendar files, read back by vobject, a parser that shares no code with the writer."""

from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

import pytest
import vobject

from lessons.ics import Event, calendar_bytes

DUBLIN = ZoneInfo("Europe/Dublin")


def event(**values) -> Event:
    whole = {
        "uid": "lesson-1@holdfast", "starts": datetime(2026, 7, 1, 10, 30, tzinfo=DUBLIN), "summary": "Lesson",
        "changed_at": datetime(2026, 6, 1, 8, tzinfo=UTC), **values,
    }
    return Event(**whole)


def read(*events: Event, **values):
    data = calendar_bytes(events=events, name="Runa Holm", **values)
    return vobject.readOne(data.decode())


def test_the_hour_is_the_academys_whatever_the_reader_knows_of_time_zones():
    found = read(event()).vevent
    assert found.dtstart.value == datetime(2026, 7, 1, 9, 30, tzinfo=UTC)
    assert found.dtend.value == datetime(2026, 7, 1, 10, 30, tzinfo=UTC)


@pytest.mark.parametrize(("starts", "utc_hour", "length_h"), [
    # The clocks of Dublin go forward on 29 March 2026 at 01:00 UTC and back on 25 October 2026 at 01:00 UTC.
    (datetime(2026, 3, 29, 0, 30, tzinfo=DUBLIN), 0, 2), (datetime(2026, 3, 29, 9, 0, tzinfo=DUBLIN), 8, 2),
    (datetime(2026, 10, 25, 0, 30, tzinfo=DUBLIN), 23, 2), (datetime(2026, 10, 25, 9, 0, tzinfo=DUBLIN), 9, 2),
])
def test_both_nights_of_the_clock_change_keep_the_length(starts, utc_hour, length_h):
    found = read(event(starts=starts, minutes=120)).vevent
    assert found.dtstart.value.hour == utc_hour
    assert (found.dtend.value - found.dtstart.value).total_seconds() == length_h * 3600


def test_the_two_halves_past_one_of_the_long_night_are_an_hour_apart():
    first = datetime(2026, 10, 25, 1, 30, tzinfo=DUBLIN)
    starts = [read(event(starts=first.replace(fold=fold))).vevent.dtstart.value for fold in (0, 1)]
    assert (starts[1] - starts[0]).total_seconds() == 3600


def test_a_changed_event_keeps_its_uid_and_raises_its_sequence():
    found = read(event(sequence=3)).vevent
    assert (found.uid.value, found.sequence.value, found.status.value) == ("lesson-1@holdfast", "3", "CONFIRMED")


def test_a_cancelled_event_says_so_and_the_file_its_method():
    calendar = read(event(cancelled=True, sequence=1), method="CANCEL")
    assert (calendar.method.value, calendar.vevent.status.value) == ("CANCEL", "CANCELLED")


def test_signs_that_mean_something_to_the_format_come_back_as_they_were():
    said = "Bay 4; left, then\nright \\ back “ü” " + "x" * 200
    found = read(event(description=said, location="Heron, grass; tee")).vevent
    assert (found.description.value, found.location.value) == (said, "Heron, grass; tee")


def test_no_line_is_longer_than_the_format_allows():
    data = calendar_bytes(events=[event(description="ü" * 300)], name="Runa")
    assert max(len(line) for line in data.split(b"\r\n")) <= 75


def test_a_whole_day_is_a_date_without_an_hour():
    found = read(event(starts=date(2026, 3, 29))).vevent
    assert (found.dtstart.value, found.dtend.value) == (date(2026, 3, 29), date(2026, 3, 30))


def test_a_moment_without_its_time_zone_is_refused():
    with pytest.raises(ValueError, match="no time zone"):
        calendar_bytes(events=[event(starts=datetime(2026, 7, 1, 10, 30))], name="Runa")
