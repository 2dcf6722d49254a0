"""Several blocks as one side of a comparison, each visit counted once."""

from collections import Counter
from collections.abc import Sequence

import numpy as np

from metrics.flight.visit import NAN, VisitCarry


def mean_of_blocks(*, blocks: Sequence[VisitCarry]) -> VisitCarry:
    """Return the mean of some blocks' carries at the reference condition, every block counted once.

    The errors of the balls and of the weather are independent from visit to visit and are added in quadrature;
    the model's error is the same ball model's every time and is averaged, not divided by the visits. So
    ``compare_blocks`` takes two such sides as it takes two blocks, and its common error is f |D₂ − D₁| of the mean
    corrections with the weather's own part. Refused with the first refusal among the blocks, or where
    they are of different clubs or stated for different references. Raises ValueError without a block.
    Source: error propagation.
    """
    if not blocks:
        raise ValueError("a side of a comparison needs at least one block")
    first = blocks[0]
    refusal = next((block.refusal for block in blocks if block.refusal), "") or _unlike(blocks)

    def mean(name: str) -> float:
        return NAN if refusal else float(np.mean([getattr(block, name) for block in blocks]))

    def in_quadrature(name: str) -> float:
        return NAN if refusal else float(np.hypot.reduce([getattr(block, name) for block in blocks]) / len(blocks))

    return VisitCarry(
        n=sum(block.n for block in blocks), category=first.category,
        measured_m=mean("measured_m"), carry_m=mean("carry_m"),
        density_correction_m=mean("density_correction_m"), wind_correction_m=mean("wind_correction_m"),
        shot_error_m=in_quadrature("shot_error_m"), model_error_m=mean("model_error_m"),
        input_error_m=in_quadrature("input_error_m"),
        estimated_spin=sum(block.estimated_spin for block in blocks),
        outside_range=sum(block.outside_range for block in blocks),
        left_out=dict(sum((Counter(block.left_out) for block in blocks), Counter())),
        refusal=refusal, reference=first.reference, model_version=first.model_version,
    )


def _unlike(blocks: Sequence[VisitCarry]) -> str:
    if len({block.category for block in blocks}) > 1:
        return "different_club"
    if len({(block.reference, block.model_version) for block in blocks}) > 1:
        return "different_reference"
    return ""
