"""A second device that watched the same balls: which of its balls is which, so that none is stored twice.

Two devices never agree exactly, one may miss a ball, and their clocks differ. The two rows of balls are
laid beside each other in the order they were hit, and the cheapest pairing is taken.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from metrics.fields import FIELDS

Shots = Mapping[str, NDArray[np.float64]]

DEVICE_NOISE = {"ball_speed_mps": 1.0, "club_speed_mps": 1.5, "carry_m": 5.0, "total_m": 7.0, "side_m": 4.0,
                "launch_angle_deg": 1.0, "launch_direction_deg": 1.0, "spin_rpm": 350.0, "apex_m": 2.5,
                "club_path_deg": 1.5, "face_angle_deg": 1.5, "attack_angle_deg": 1.5, "flight_time_s": 0.4}
"""How far two devices may differ on one ball, one standard deviation. A judgement, no source."""
SKIP_COST = 4.0
"""Mean squared difference, in noise units, above which two balls are rather two balls. A judgement."""
MOST_BALLS = 600
SHUFFLES = 199
"""Orders of the second row that the real order must beat. One golfer's balls are all alike: without this,
ten new balls of the same club always look like ten stored ones."""


@dataclass(frozen=True, kw_only=True)
class Pairing:
    """``match`` shape (second,): index of the first device's ball, −1 where it saw none.

    ``same`` says whether the two rows of balls look like one session at all: enough pairs, close enough.
    """

    match: NDArray[np.int64]
    same: bool

    def sentence(self) -> str:
        """Return the pairing in words."""
        paired, total = int((self.match >= 0).sum()), len(self.match)
        if not self.same:
            return "These look like other balls than the ones stored."
        return f"{paired} of {total} balls are the same as stored ones, seen by a second device"


def pair_devices(first: Shots, second: Shots) -> Pairing:
    """Return which ball of ``second`` is which of ``first``; both in the order hit, values in SI.

    Only quantities that both have are compared. With none in common, or more than 600 balls, nothing is
    paired. ``same`` needs pairs for at least 70 % of the shorter row, and at least five, and a cheaper
    pairing than each of 199 shuffles of the second row gives (a permutation test at 0.5 %, fixed seed):
    where balls scatter no more than devices differ, nobody can tell, and nothing is paired.
    """
    shared = [key for key in DEVICE_NOISE if key in FIELDS and key in first and key in second]
    n = max((len(v) for v in first.values()), default=0)
    m = max((len(v) for v in second.values()), default=0)
    match = np.full(m, -1, dtype=np.int64)
    if not shared or not n or not m or max(n, m) > MOST_BALLS:
        return Pairing(match=match, same=False)
    cost = _costs(first, second, shared, n, m)
    for i, j in _cheapest(cost):
        match[j] = i
    pairs = int((match >= 0).sum())
    same = pairs >= max(5, 0.7 * min(n, m)) and _beats_chance(cost)
    return Pairing(match=match, same=same)


def _beats_chance(cost: NDArray[np.float64]) -> bool:
    """Say whether the order hit pairs cheaper than every shuffled order of the second row does."""
    n, m = cost.shape
    random = np.random.default_rng(0)
    orders = np.stack([np.arange(m), *(random.permutation(m) for _ in range(SHUFFLES))])
    half = SKIP_COST / 2
    skipped = half * np.arange(m + 1)[:, None]
    above = np.repeat(skipped, len(orders), axis=1)
    for i in range(n):
        step = np.minimum(above[:-1] + cost[i][orders.T], above[1:] + half)
        start = np.full((1, len(orders)), half * (i + 1))
        # here[j] = min(step[j - 1], here[j - 1] + half), all j at once.
        above = np.minimum.accumulate(np.concatenate([start, step - skipped[1:]])) + skipped
    return bool(above[m, 0] < above[m, 1:].min())


def _costs(first: Shots, second: Shots, shared: list[str], n: int, m: int) -> NDArray[np.float64]:
    """Return the mean squared difference of each pair in noise units, shape (n, m); infinite where unknown."""
    total = np.zeros((n, m))
    count = np.zeros((n, m))
    for key in shared:
        squared = ((first[key][:, None] - second[key][None, :]) / DEVICE_NOISE[key]) ** 2 / 2
        known = np.isfinite(squared)
        total += np.where(known, squared, 0.0)
        count += known
    return np.where(count > 0, total / np.maximum(count, 1), np.inf)


def _cheapest(cost: NDArray[np.float64]) -> list[tuple[int, int]]:
    """Return the pairs of the cheapest alignment in order; leaving one ball of each out costs ``SKIP_COST``."""
    n, m = cost.shape
    best = np.zeros((n + 1, m + 1))
    half = SKIP_COST / 2
    best[:, 0] = half * np.arange(n + 1)
    best[0, :] = half * np.arange(m + 1)
    for i in range(1, n + 1):
        row = best[i - 1, :-1] + cost[i - 1]
        up = best[i - 1, 1:] + half
        step = np.minimum(row, up)
        for j in range(1, m + 1):
            best[i, j] = min(step[j - 1], best[i, j - 1] + half)
    pairs, i, j = [], n, m
    while i and j:
        if best[i, j] == best[i - 1, j - 1] + cost[i - 1, j - 1]:
            pairs.append((i - 1, j - 1))
            i, j = i - 1, j - 1
        elif best[i, j] == best[i - 1, j] + half:
            i -= 1
        else:
            j -= 1
    return pairs[::-1]
