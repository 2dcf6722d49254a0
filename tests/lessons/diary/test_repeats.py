"""The same hour every week, across the nights when the clocks change. Outside source: the tz database through
zoneinfo, and the published dates of Ireland's changes (29 March and 25 October 2026, both at 01:00 UTC)."""

from datetime import UTC, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lessons.repeats import weekly

from .hours import DUBLIN, at


def clock(moment) -> str:
    return f"{moment.astimezone(DUBLIN):%m-%d %H:%M}"


@pytest.mark.parametrize(("first", "utc_hours"), [("2026-03-23 10:00", [10, 9]), ("2026-10-19 10:00", [9, 10])])
def test_ten_o_clock_stays_ten_o_clock_when_the_clocks_change(first, utc_hours):
    found = weekly(first=at(first), times=2, zone=DUBLIN)
    assert [moment.astimezone(DUBLIN).hour for moment in found.moments] == [10, 10]
    assert [moment.astimezone(UTC).hour for moment in found.moments] == utc_hours


def test_an_hour_that_the_short_night_skips_is_left_out_and_named():
    found = weekly(first=at("2026-03-22 01:30"), times=3, zone=DUBLIN)
    assert [clock(moment) for moment in found.moments] == ["03-22 01:30", "04-05 01:30"]
    assert found.skipped == ["29 March 2026, 01:30 does not exist: the clocks go forward that night."]


def test_an_hour_that_the_long_night_has_twice_is_taken_the_first_time():
    found = weekly(first=at("2026-10-18 01:30"), times=2, zone=DUBLIN)
    assert found.moments[1].astimezone(UTC).isoformat() == "2026-10-25T00:30:00+00:00"


@settings(max_examples=200)
@given(day=st.integers(0, 800), quarter=st.integers(0, 95), times=st.integers(1, 60), every=st.integers(1, 4))
def test_every_repeat_shows_the_same_clock_and_none_is_lost(day, quarter, times, every):
    first = at("2026-01-01 00:00") + timedelta(days=day, minutes=15 * quarter)
    found = weekly(first=first, times=times, every=every, zone=DUBLIN)
    assert len(found.moments) + len(found.skipped) == times
    assert {f"{m.astimezone(DUBLIN):%a %H:%M}" for m in found.moments} <= {f"{first.astimezone(DUBLIN):%a %H:%M}"}


def test_no_repeat_at_all_is_refused():
    with pytest.raises(ValueError, match="1 or more"):
        weekly(first=at("2026-03-22 01:30"), times=0, zone=DUBLIN)
