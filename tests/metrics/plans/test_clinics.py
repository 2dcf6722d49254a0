"""Clinics that ship: every station has a marked zone, and the minutes add up."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from metrics.plans.clinics import CLINICS, MOST_STATIONS, stations_for


@pytest.mark.parametrize("clinic", CLINICS.values(), ids=lambda one: one.slug)
def test_every_station_says_what_where_and_how_in_at_most_the_stations_one_coach_can_watch(clinic):
    assert 2 <= len(clinic.stations) <= MOST_STATIONS
    assert all(one.title and one.zone and one.how for one in clinic.stations)


@given(minutes=st.integers(6, 240), slug=st.sampled_from(sorted(CLINICS)))
def test_the_minutes_of_the_stations_are_those_of_the_class(minutes, slug):
    laid_out = stations_for(clinic=CLINICS[slug], minutes=minutes)
    assert sum(one["minutes"] for one in laid_out) == minutes
    assert all(one["minutes"] >= 1 for one in laid_out)


def test_fewer_minutes_than_stations_are_refused():
    with pytest.raises(ValueError, match="too few"):
        stations_for(clinic=CLINICS["first_swings"], minutes=3)
