"""How often the rules speak: simulated within Monte-Carlo error of the exact chances, and the bare mean beside it."""

import math
from itertools import repeat

import numpy as np
import pytest
from scipy import integrate, stats

from metrics.rules.states import judge_pattern
from metrics.rules.types import BlockEvidence
from tests.library.shipped import shipped_library

WATCH, SD, N, DAY, RUNS = 4.0, 2.4, 8, 0.4, 1500
PUBLISHED = {1: 0.001, 3: 0.05, 4: 0.19, 5: 0.45, 6: 0.74, 7: 0.92}
"""Rates of "supported" computed once before by simulation for the same rule; printed to the per cent."""

pytestmark = pytest.mark.simulation


def fired(true_path: float) -> tuple[float, float]:
    """Return how often over_draw is supported, and how often the bare mean is past watch."""
    rng = np.random.default_rng(int(true_path * 10))
    library = shipped_library()
    pattern = library.patterns["over_draw"]
    supported = bare = 0
    for _ in repeat(None, RUNS):
        path = true_path + rng.normal(0, DAY * SD) + rng.normal(0, SD, N)
        block = BlockEvidence(club_category="driver", shots={"club_path_deg": path,
                                                             "face_to_path_deg": np.full(N, -3.0)})
        supported += judge_pattern(pattern, evidence=block, library=library).state == "supported"
        bare += path.mean() >= WATCH
    return supported / RUNS, bare / RUNS


def exact(true_path: float) -> tuple[float, float]:
    """P(mean − t·s/√n > watch) by scipy: noncentral t given the day, integrated over the day."""
    limit = stats.t.ppf(0.9, N - 1)

    def given_day(z: float) -> float:
        shift = (true_path + z * DAY * SD - WATCH) / (SD / math.sqrt(N))
        return stats.nct.sf(limit, N - 1, shift) * stats.norm.pdf(z)

    supported = integrate.quad(given_day, -6, 6)[0]
    spread = SD * math.sqrt(DAY**2 + 1 / N)
    return supported, stats.norm.sf((WATCH - true_path) / spread)


@pytest.mark.parametrize("true_path", [1, 3, 4, 5, 6, 7])
def test_the_rule_fires_as_often_as_it_should_and_less_than_a_bare_mean(true_path):
    seen, wanted = fired(true_path), exact(true_path)
    for found, chance in zip(seen, wanted, strict=True):
        error = math.sqrt(max(chance * (1 - chance), 1e-4) / RUNS)
        assert abs(found - chance) < 4 * error
    assert seen[0] <= seen[1]


@pytest.mark.parametrize("true_path, rate", PUBLISHED.items())
def test_the_exact_chances_are_the_published_ones(true_path, rate):
    assert exact(true_path)[0] == pytest.approx(rate, abs=0.012)


def test_a_bare_mean_past_watch_would_cry_wolf_one_time_in_five_at_a_true_three():
    assert exact(3)[1] == pytest.approx(0.21, abs=0.01)
