"""The derived numbers of a block, stored when a ball changes and read by every page.

Pages read these instead of all balls, so they stay as fast with a million balls as with ten.
"""

from typing import Any

import numpy as np

from metrics.intervals import mean_estimate

from .frames import BlockShots, shots_of
from .mishits import retag
from .models import Block

SUMMARY_VERSION = "1"
"""Raise it when the meaning of a number changes; stale summaries are recomputed when they are next read."""


def summarise(shots: BlockShots) -> dict[str, Any]:
    """Return the numbers of a block as plain JSON: counts, and for each quantity n, mean, SD, interval.

    Balls that the coach excluded do not count; mishits do, and the same numbers without them stand beside.
    """
    judged = shots.judged()
    struck = judged.where(~judged.mishit)
    return {
        "balls": shots.count,
        "judged": judged.count,
        "mishits": int(judged.mishit.sum()),
        "numbers": {key: _numbers(judged.numbers[key]) for key in judged.present_fields()},
        "numbers_struck": {key: _numbers(struck.numbers[key]) for key in struck.present_fields()},
        "derived": sorted(judged.derived),
        "calls": _calls(judged),
        "provenance": sorted({kind for kind in judged.provenance if kind}),
    }


def refresh(block: Block) -> dict[str, Any]:
    """Tag the mishits, recompute and store the summary of a block. Two queries, two more where tags changed."""
    block.summary = summarise(retag(shots_of([block])[block.pk]))
    block.summary_version = SUMMARY_VERSION
    Block.objects.filter(pk=block.pk).update(summary=block.summary, summary_version=SUMMARY_VERSION)
    return block.summary


def summary_of(block: Block) -> dict[str, Any]:
    """Return the stored summary, recomputed first where it is of an older version."""
    if block.summary_version != SUMMARY_VERSION:
        return refresh(block)
    return block.summary


def _numbers(values: np.ndarray) -> dict[str, Any]:
    estimate = mean_estimate(values=values, level=0.95)
    return {
        "n": estimate.n, "mean": _plain(estimate.mean), "sd": _plain(estimate.sd), "lo": _plain(estimate.lo),
        "hi": _plain(estimate.hi), "median": _plain(float(np.nanmedian(values))) if estimate.n else None,
        "r1": _plain(_lag_one(values)),
    }


def _lag_one(values: np.ndarray) -> float:
    """Return the lag-1 autocorrelation of balls in the order they were hit; NaN below five."""
    kept = values[np.isfinite(values)]
    if len(kept) < 5:
        return float("nan")
    centred = kept - kept.mean()
    total = float(centred @ centred)
    return float(centred[:-1] @ centred[1:]) / total if total > 0 else float("nan")


def _calls(shots: BlockShots) -> dict[str, Any]:
    """Count what was called, per kind: {"start": {"-1": 2, "0": 5, "1": 3}, …}."""
    counts: dict[str, dict[str, int]] = {"start": {}, "curve": {}, "height": {}, "contact": {}}
    for call in shots.calls:
        for kind in counts:
            value = getattr(call, kind)
            if value is not None:
                counts[kind][str(value)] = counts[kind].get(str(value), 0) + 1
    return {kind: found for kind, found in counts.items() if found}


def _plain(value: float) -> float | None:
    return round(float(value), 6) if np.isfinite(value) else None
