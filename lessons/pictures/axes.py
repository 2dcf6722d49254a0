"""Scales and ticks shared by the pictures that plot numbers."""

import math
from collections.abc import Iterable
from dataclasses import dataclass

YARD_M = 0.9144


@dataclass(frozen=True, kw_only=True)
class Scale:
    """A straight map from values to a coordinate. ``start`` may lie right of or below ``end``."""

    low: float
    high: float
    start: float
    end: float

    def __call__(self, value: float) -> float:
        return self.start + (value - self.low) / (self.high - self.low) * (self.end - self.start)


def span(values: Iterable[float], *, pad: float = 0.08, least: float = 1.0) -> tuple[float, float]:
    """Lowest and highest of the finite values, with some air, never narrower than ``least``.

    Without a single value the answer is (0, least): an empty picture still has an axis.
    """
    kept = [value for value in values if math.isfinite(value)]
    if not kept:
        return 0.0, least
    low, high = min(kept), max(kept)
    if high - low < least:
        middle = (low + high) / 2
        low, high = middle - least / 2, middle + least / 2
    air = (high - low) * pad
    return low - air, high + air


def ticks(low: float, high: float, *, about: int = 5) -> list[float]:
    """Round numbers inside [low, high], stepping by 1, 2 or 5 times a power of ten."""
    if not high > low:
        raise ValueError(f"an axis needs high above low, got {low} to {high}")
    raw = (high - low) / max(about, 1)
    power = 10 ** math.floor(math.log10(raw))
    step = next(power * m for m in (1, 2, 5, 10) if power * m >= raw * 0.999)
    first = math.ceil(low / step - 1e-9)
    count = math.floor(high / step + 1e-9) - first + 1
    return [round(place * step, 10) for place in map(first.__add__, range(count))]


def digits_of(tick_list: list[float]) -> int:
    """Decimals needed to tell neighbouring ticks apart."""
    if len(tick_list) < 2:
        return 0
    step = abs(tick_list[1] - tick_list[0])
    return max(0, -math.floor(math.log10(step) + 1e-9))
