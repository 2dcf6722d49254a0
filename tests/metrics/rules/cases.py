"""Blocks of balls for the tests of the rules, as a device would write them and as the program reads them."""

from collections.abc import Mapping
from itertools import repeat

import numpy as np

from metrics.fields import MIRRORED
from metrics.rules.assessment import Assessment, Finding
from metrics.rules.engine import evaluate
from metrics.rules.types import BallCall, BlockEvidence, Hand
from tests.library.shipped import shipped_library


def column(mean: float, sd: float, n: int) -> np.ndarray:
    """Return n values with exactly this mean and sample SD, in an order without drift."""
    if n == 1 or sd == 0:
        return np.full(n, float(mean))
    ramp = np.linspace(-1, 1, n)
    order = np.random.default_rng(n).permutation(n)
    values = ramp[order] - ramp.mean()
    return mean + sd * values / values.std(ddof=1)


def through_the_door(raw: Mapping[str, np.ndarray], hand: Hand) -> dict[str, np.ndarray]:
    """Turn a file that says "+ is right of target" into player-relative signs, as the import does."""
    return {key: -values if hand == "left" and key in MIRRORED else values for key, values in raw.items()}


def right_hander_or_mirror(shots: Mapping[str, np.ndarray], hand: Hand) -> dict[str, np.ndarray]:
    """Return the player-relative block after a raw file of this hand has come through the door."""
    raw = {key: -values if hand == "left" and key in MIRRORED else values for key, values in shots.items()}
    return through_the_door(raw, hand)


def assess(shots: Mapping[str, np.ndarray] | None = None, *, hand: Hand = "right", **more: object) -> Assessment:
    """Evaluate a block with the shipped library; driver unless told otherwise."""
    more.setdefault("club_category", "driver")
    through = right_hander_or_mirror(shots or {}, hand)
    return evaluate(BlockEvidence(shots=through, hand=hand, **more), library=shipped_library())  # type: ignore[arg-type]


def shown(assessment: Assessment) -> list[str]:
    """Return the slugs of the findings, in reading order."""
    return [finding.pattern for finding in assessment.findings]


def finding(assessment: Assessment, slug: str) -> Finding:
    """Return one finding, which must be shown."""
    return next(f for f in assessment.findings if f.pattern == slug)


def state_of(assessment: Assessment, slug: str) -> str:
    """Return the state of a pattern, shown or not."""
    return next(c.state for c in assessment.considered if c.pattern == slug)


def contacts(**counts: int) -> tuple[BallCall, ...]:
    """Return called contacts: ``contacts(top=5, clean=5)``."""
    return tuple(BallCall(contact=name) for name, n in counts.items() for _ in repeat(None, n))  # type: ignore[arg-type]
