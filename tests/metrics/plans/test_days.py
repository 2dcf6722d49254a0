"""Sittings on chosen weekdays."""

from datetime import date, timedelta

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from metrics.plans.days import days_of_week

MONDAY = date(2026, 5, 4)


@pytest.mark.parametrize(("sittings", "weekdays", "days"), [
    (1, (2,), [6]), (3, (0, 2, 4), [4, 6, 8]), (2, (0, 2, 4, 5), [4, 8]), (4, (1, 3), [5, 5, 7, 7]), (2, (), []),
    (0, (1,), []),
])
def test_sittings_spread_over_the_days_and_share_one_where_there_are_more(sittings, weekdays, days):
    assert [day.day for day in days_of_week(sittings=sittings, first=MONDAY, weekdays=weekdays)] == days


def test_a_week_that_begins_on_a_thursday_puts_the_monday_behind_it():
    found = days_of_week(sittings=2, first=date(2026, 5, 7), weekdays=(0, 4))
    assert found == (date(2026, 5, 8), date(2026, 5, 11))


@settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.integers(0, 20), st.sets(st.integers(0, 6), min_size=1), st.dates(date(2020, 1, 1), date(2040, 1, 1)))
def test_every_sitting_lies_in_its_week_on_a_chosen_day_and_none_is_more_than_one_ahead(sittings, weekdays, first):
    found = days_of_week(sittings=sittings, first=first, weekdays=weekdays)
    assert len(found) == sittings and list(found) == sorted(found)
    assert all(first <= day < first + timedelta(days=7) and day.weekday() in weekdays for day in found)
    counts = [found.count(day) for day in set(found)]
    assert not counts or max(counts) - min(counts) <= 1


@pytest.mark.parametrize("values", [{"sittings": -1, "weekdays": (0,)}, {"sittings": 1, "weekdays": (7,)}])
def test_what_is_no_day_is_refused(values):
    with pytest.raises(ValueError, match="expected 0 or more, on days from 0 to 6"):
        days_of_week(first=MONDAY, **values)
