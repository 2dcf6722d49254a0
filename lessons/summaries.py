"""The derived numbers of a block, stored when a ball changes and read by every page.

Pages read these instead of all balls, so they stay as fast with a million balls as with ten.
"""

import math
from typing import Any

import numpy as np
from django.db import transaction

from metrics.intervals import mean_estimate, means_with_intervals

from .frames import BlockShots, shots_of
from .mishits import retag
from .models import Block
from .reference_carry import has_carry, is_current, references_of

SUMMARY_VERSION = "2"
"""Raise it when the meaning of a number changes; stale summaries are recomputed when they are next read."""

FEWEST_IN_ORDER = 5
"""Below so many balls nothing is said about how one follows the other."""

NOT_FLOWN: dict[str, Any] = {"not_flown": True}
"""Stands for a carry at the reference condition that nobody has asked for since a ball changed: it rests on no
conditions, so it is worked out when it is next read. A ball at the range never waits for a flight."""


def summarise(shots: BlockShots, *, reference: dict[str, Any] | None, usual: str) -> dict[str, Any]:
    """Return the numbers of a block as plain JSON: counts, and for each quantity n, mean, SD, interval.

    Balls that the coach excluded do not count; mishits do, and the same numbers without them stand beside.
    ``reference`` is the block's carry at the reference condition, see lessons.reference_carry. ``usual`` is how the
    device's carries come about; where they came about in different ways there is no mean of them.
    """
    judged = shots.judged()
    numbers = _all_numbers(judged, usual)
    return {
        "balls": shots.count,
        "judged": judged.count,
        "mishits": int(judged.mishit.sum()),
        "numbers": numbers,
        "numbers_struck": _all_numbers(judged.where(~judged.mishit), usual) if judged.mishit.any() else numbers,
        "derived": sorted(judged.derived),
        "calls": _calls(judged),
        "provenance": sorted({kind for kind in judged.provenance if kind}),
        "reference": reference,
    }


def refresh(block: Block) -> dict[str, Any]:
    """Tag the mishits, recompute and store the summary of a block. Two queries, two more where tags changed.

    No ball is flown here: the carry at the reference condition is worked out when somebody reads it.
    """
    summarise_into(block=block, shots=retag(shots_of([block])[block.pk]))
    block.save(update_fields=["summary", "summary_version"])
    return block.summary


def summarise_into(*, block: Block, shots: BlockShots) -> None:
    """Set the summary of a block from its balls, mishits tagged; nothing is stored. No query."""
    _put(block, shots, reference=NOT_FLOWN if has_carry(shots) else None)


def refresh_all(blocks: list[Block]) -> None:
    """Recompute and store the summaries of some blocks, their balls flown together. Three queries, plus new tags.

    Takes turns with whoever adds a ball meanwhile, so that no summary is stored that misses it.
    """
    with transaction.atomic():
        list(Block.objects.select_for_update().filter(pk__in=[block.pk for block in blocks]).values_list("pk"))
        shots = {key: retag(found) for key, found in shots_of(blocks).items()}
        references = references_of([(block, shots[block.pk]) for block in blocks])
        for block, reference in zip(blocks, references, strict=True):
            _put(block, shots[block.pk], reference=reference)
        Block.objects.bulk_update(blocks, ["summary", "summary_version"])


def _put(block: Block, shots: BlockShots, *, reference: dict[str, Any] | None) -> None:
    device = block.lesson.device
    block.summary = summarise(shots, reference=reference, usual=device.carry_provenance if device else "")
    block.summary_version = SUMMARY_VERSION


def references_for(blocks: list[Block]) -> dict[int, dict[str, Any] | None]:
    """Return each block's stored carry at the reference condition; stale ones are worked out again first.

    The blocks should come with lesson, venue and device. No query where everything still holds.
    """
    stale = [
        block for block in blocks if block.summary_version != SUMMARY_VERSION
        or not is_current(block=block, stored=block.summary.get("reference"))
    ]
    if stale:
        refresh_all(stale)
    return {block.pk: block.summary["reference"] for block in blocks}


def summary_of(block: Block) -> dict[str, Any]:
    """Return the stored summary, recomputed first where it is of an older version."""
    if block.summary_version != SUMMARY_VERSION:
        return refresh(block)
    return block.summary


def _all_numbers(shots: BlockShots, usual: str) -> dict[str, Any]:
    """Numbers that every ball has are worked out together, as rows of one table; the others one by one."""
    fields = shots.present_fields()
    whole = [key for key in fields if np.isfinite(shots.numbers[key]).all()]
    together = dict(zip(whole, _rows_of_numbers(np.array([shots.numbers[key] for key in whole])), strict=True))
    found = {key: together[key] if key in together else _numbers(shots.numbers[key]) for key in fields}
    if "carry_m" in found and _is_mixed(shots, usual):
        found["carry_m"] = {**dict.fromkeys(found["carry_m"]), "n": found["carry_m"]["n"]}
    return found


def _is_mixed(shots: BlockShots, usual: str) -> bool:
    """Say whether carries that were measured stand beside carries that were worked out."""
    known = np.flatnonzero(np.isfinite(shots.numbers["carry_m"]))
    return len({shots.provenance[i] or usual for i in known}) > 1


def _rows_of_numbers(table: np.ndarray) -> list[dict[str, Any]]:
    """Return ``_numbers`` of each row of a table without gaps; a ball at the range waits for this."""
    if table.shape[0] == 0 or table.shape[1] < FEWEST_IN_ORDER:
        return [_numbers(row) for row in table]
    means, sds, lo, hi = means_with_intervals(table=table, level=0.95)
    centred = table - means[:, None]
    total = (centred * centred).sum(axis=1)
    after_another = (centred[:, :-1] * centred[:, 1:]).sum(axis=1)
    r1 = np.divide(after_another, total, out=np.full_like(total, np.nan), where=total > 0)
    columns = np.column_stack((means, sds, lo, hi, np.median(table, axis=1), r1))
    names = ("mean", "sd", "lo", "hi", "median", "r1")
    return [
        {"n": table.shape[1], **{name: value if value == value else None for name, value in zip(names, row,
                                                                                                strict=True)}}
        for row in np.round(columns, 6).tolist()
    ]


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
    if len(kept) < FEWEST_IN_ORDER:
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
    return round(float(value), 6) if math.isfinite(value) else None
