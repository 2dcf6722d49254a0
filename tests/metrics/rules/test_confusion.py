"""Players with one true fault, and with none: how often the rules name the right thing. The table itself is printed
by ``python -m tests.metrics.rules.confusion``."""

import pytest

from tests.library.shipped import shipped_library

from .confusion import false_findings, run
from .faults import FAULTS

pytestmark = pytest.mark.simulation
REPEATS = 20
REACHED = 0.90
LUCK = 0.20
"""With 20 blocks a true rate of 90 % shows 70 % or less less than 2 times in 100 (binomial)."""
SHORT_OF_IT = {
    "two_way_miss": 0.4,  # needs 3 of 12 balls far out on each side, and may be read as the big path it comes from
    "carry_scatter": 0.6,  # a spread from 12 balls less the mishits is uncertain by a third
}


def test_every_pattern_of_the_library_has_an_invented_player():
    assert set(FAULTS) == set(shipped_library().patterns)


@pytest.mark.parametrize("fault", FAULTS)
def test_a_strong_true_fault_is_among_the_two_shown(fault):
    assert run(fault, 1.0, REPEATS).shown >= SHORT_OF_IT.get(fault, REACHED - LUCK)


def test_all_faults_together_reach_nine_in_ten_without_those_that_cannot():
    able = [run(fault, 1.0, REPEATS).shown for fault in FAULTS if fault not in SHORT_OF_IT]
    assert sum(able) / len(able) >= REACHED


def test_faultless_players_get_a_supported_finding_at_most_one_time_in_twenty():
    rates = [supported for supported, _, _ in false_findings(10).values()]
    assert sum(rates) / len(rates) <= 0.05


def test_a_worse_fault_is_seen_more_often_than_a_slight_one():
    for fault in ("over_draw", "slice", "driver_steep", "toe_strike"):
        assert run(fault, 1.0, REPEATS).shown > run(fault, 0.0, REPEATS).shown


def test_the_same_seed_draws_the_same_players():
    assert run.__wrapped__("slice", 0.5, 3) == run.__wrapped__("slice", 0.5, 3)
