"""Every figure of an academy drawn at random, against pandas on the bare tables."""

import pytest
import time_machine
from django.utils import timezone

from lessons.queries.academy.cohorts import cohorts
from lessons.queries.academy.measures import MEASURES
from lessons.queries.academy.tables import weeks
from lessons.queries.academy.world import Filters, world

from . import drawn
from .by_pandas import Academy


@pytest.fixture(scope="module")
def counted(django_db_setup, django_db_blocker):
    """Both counts of one academy, for two windows; the rows are thrown away with it."""
    from django.db import transaction

    from tests import factories

    with (django_db_blocker.unblock(), time_machine.travel(drawn.NOW, tick=False), timezone.override("Europe/Dublin"),
          transaction.atomic()):
        factories.make_academy()
        owner = drawn.build(students=80)[-1]
        yield {days: (world(coach=owner, filters=Filters(days=days), now=drawn.NOW), Academy(drawn.NOW, days))
               for days in (90, 365)}
        transaction.set_rollback(True)


@pytest.mark.parametrize("days", [90, 365])
@pytest.mark.parametrize("key", MEASURES)
def test_each_figure_is_what_pandas_counts(counted, key, days):
    seen, other = counted[days]
    count, told = MEASURES[key].of(seen).count, getattr(other, key)()
    assert (count.top, count.bottom) == (pytest.approx(told.top), pytest.approx(told.bottom))
    names = {row.student.pk: row.student.name for row in seen.everybody}
    assert {names[pk] for pk in count.students} == told.names


@pytest.mark.django_db
def test_the_academy_is_messy_enough_for_every_figure_to_count_something(counted):
    empty = {days: {key for key, measure in MEASURES.items() if not measure.of(seen).count.top > 0}
             for days, (seen, _) in counted.items()}
    assert not empty[90] & empty[365]


def test_each_week_holds_as_many_lessons_as_pandas_finds(counted):
    seen, other = counted[90]
    found = dict(weeks(seen))
    told = {day.date(): count for day, count in other.weeks().items()}
    assert found == {day: told.get(day, 0) for day in found} and sum(found.values()) > 100


def test_each_cohort_is_what_pandas_counts(counted):
    seen, other = counted[90]
    told = {f"{month.to_timestamp():%B %Y}": row for month, row in other.cohorts().iterrows()}
    found = {one.name: one for one in cohorts(seen)}
    assert set(found) == set(told)
    for name, one in found.items():
        row = told[name]
        assert (one.size, *one.three_in_90, *one.active_at_180) == tuple(
            int(row[column]) for column in ("size", "three", "old90", "still", "old180")), name
