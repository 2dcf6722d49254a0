"""Minutes are a promise: parts that add up to it exactly, never above it."""

from collections.abc import Sequence

BALLS_AN_HOUR = 80
STEEP = 1.3
"""A week above 1.3 times the mean of the last four grows too fast. Both common practice, no source."""
WEEKS_LOOKED_AT, HARMLESS_BALLS = 4, 40
"""Up to 40 full swings a week are let pass whatever was before: too few to strain anybody. A judgement, no source."""


def split_minutes(*, total: int, weights: Sequence[float], least: int = 1) -> tuple[int, ...]:
    """Return whole minutes in proportion to the weights (largest remainder), adding up to ``total`` exactly.

    Every part with a weight gets ``least`` minutes where the total allows; where it does not, the parts with the
    largest weights get theirs first and the rest 0. Raises ValueError for a negative total or weight.

    >>> split_minutes(total=60, weights=(8, 15, 20, 10, 7))
    (8, 15, 20, 10, 7)
    >>> split_minutes(total=30, weights=(8, 15, 20, 10, 7))
    (4, 8, 10, 5, 3)
    """
    if total < 0 or any(weight < 0 for weight in weights):
        raise ValueError("minutes and weights must not be negative")
    wanted = [place for place in sorted(range(len(weights)), key=lambda p: -weights[p]) if weights[place] > 0]
    fits = wanted[: total // least] if least else wanted
    parts = [0] * len(weights)
    if not fits:
        return tuple(parts)
    for place in fits:
        parts[place] = least
    rest, sum_weights = total - least * len(fits), sum(weights[place] for place in fits)
    ideal = {place: max(total * weights[place] / sum_weights - least, 0.0) for place in fits}
    scale = rest / sum(ideal.values()) if sum(ideal.values()) > 0 else 0.0
    shares = {place: ideal[place] * scale if scale else rest / len(fits) for place in fits}
    for place in fits:
        parts[place] += int(shares[place])
    left = total - sum(parts)
    for place in sorted(fits, key=lambda p: (int(shares[p]) - shares[p], p))[:left]:
        parts[place] += 1
    return tuple(parts)


def most_balls(*, minutes: int) -> int:
    """Return the most balls for so many minutes of hitting: 80 an hour, rounded down."""
    return max(minutes, 0) * BALLS_AN_HOUR // 60


def growth_limit(*, balls_weeks: Sequence[int]) -> int | None:
    """Return the most full swings of the coming week: 1.3 × the mean of up to four earlier weeks (newest first), 40
    at the least.

    Weeks without a ball are left out; None below two weeks with balls, for there is nothing to grow from. Putts do
    not count.
    """
    counted = [balls for balls in balls_weeks[:WEEKS_LOOKED_AT] if balls > 0]
    if len(counted) < 2:
        return None
    return max(int(STEEP * sum(counted) / len(counted)), HARMLESS_BALLS)
