"""A coach is compared with nobody, or fairly: against statsmodels, and hidden where it would not be fair."""

from collections import defaultdict

import numpy as np
import pytest
from statsmodels.stats.contingency_tables import StratifiedTable

from lessons.queries.academy.comparison import FEWEST_FOR_A_COACH, _held

BEGINNER, LOW = ("beginner", False, False), ("low", False, True)


def strata(*rows):
    """``(stratum, coach, held, not held)`` as the page keeps them."""
    found = defaultdict(list)
    for stratum, coach, held, rest in rows:
        found[stratum] += [(coach, True)] * held + [(coach, False)] * rest
    return found


def test_what_is_usual_and_what_is_chance_are_those_of_mantel_and_haenszel():
    rows = strata((BEGINNER, 1, 15, 5), (BEGINNER, 2, 30, 30), (LOW, 1, 4, 6), (LOW, 2, 20, 5), (LOW, 3, 3, 2))
    tables = [np.array([[15, 5], [30, 30]]), np.array([[4, 6], [23, 7]])]
    outside = StratifiedTable([table.astype(float) for table in tables])
    found = _held(1, rows)
    assert (found["seen"], found["n"]) == (19, 30)
    assert found["usual"] == pytest.approx(20 * 45 / 80 + 10 * 27 / 40)
    assert found["by_chance"] == bool(outside.test_null_odds(correction=False).statistic <= 4)


@pytest.mark.parametrize(("held", "by_chance"), [(15, True), (16, False), (4, False), (5, True)])
def test_the_edge_of_chance_is_where_statsmodels_puts_two_standard_deviations(held, by_chance):
    rest = 20 - held
    found = _held(1, strata((BEGINNER, 1, held, rest), (BEGINNER, 2, 20, 20)))
    outside = StratifiedTable([np.array([[held, rest], [20, 20]], dtype=float)])
    assert bool(outside.test_null_odds(correction=False).statistic <= 4) is by_chance
    assert found["by_chance"] is by_chance


@pytest.mark.parametrize(("own", "shown"), [(FEWEST_FOR_A_COACH - 1, False), (FEWEST_FOR_A_COACH, True)])
def test_a_coach_below_twenty_students_is_not_shown(own, shown):
    assert (_held(1, strata((BEGINNER, 1, own, 0), (BEGINNER, 2, 5, 5))) is not None) is shown


def test_students_unlike_everybody_elses_are_compared_with_nobody():
    assert _held(1, strata((BEGINNER, 1, 30, 10), (LOW, 2, 30, 10))) is None
    assert _held(1, strata((BEGINNER, 1, 30, 10))) is None, "a page that holds one coach's students alone"
    mixed = _held(1, strata((BEGINNER, 1, 30, 10), (LOW, 1, 10, 10), (LOW, 2, 10, 10)))
    assert mixed["n"] == 20, "only those with others beside them"
