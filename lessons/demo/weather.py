"""The weather of the demo: a mild coast, some wind, now and then a lot of it."""

import math
import random
from datetime import date


def wind_of(rng: random.Random, *, indoors: bool) -> tuple[tuple[float, float], bool]:
    """Return the wind along and across, and whether it was measured."""
    kind = rng.random()
    if indoors or kind < 0.62:
        return (0.0, 0.0), False
    if kind < 0.9:
        return (round(rng.uniform(-3, 3), 1), round(rng.uniform(-2, 2), 1)), kind > 0.72
    return (round(rng.choice([-1, 1]) * rng.uniform(4.5, 8), 1), round(rng.uniform(-4, 4), 1)), kind > 0.95


def temperature_of(rng: random.Random, day: date) -> float:
    """A mild coast: about 6 °C in January, 18 °C in July."""
    return float(round(12 - 6 * math.cos(2 * math.pi * (day.timetuple().tm_yday - 20) / 365) + rng.uniform(-3.5, 3.5)))
