"""Which balls were mishits: they count in rates and are left out of averages of the flight, never deleted."""

import numpy as np
from numpy.typing import NDArray

from metrics.rules.quantities import column
from metrics.rules.types import BlockEvidence
from metrics.spread import CALLED_MISHITS, MISHIT_CARRY_SHARE, MISHIT_SMASH_SHARE

THIN = "thin"
"""Short, but struck: it stays in averages. In a spread one thin ball of twelve outweighs the other eleven, so there
it is left out and counted as a rate, which has its own patterns."""
MEMO = "mishits"
LEFT_OUT_OF = frozenset({
    "ball_speed_mps", "smash_factor", "launch_angle_deg", "spin_rpm", "carry_m", "total_m", "side_m", "apex_m",
    "side_pct_carry", "carry_error_pct"})
"""Numbers of the flight that a mishit would drown; delivery, strike and low point keep every ball."""


def mishits(evidence: BlockEvidence) -> NDArray[np.bool_]:
    """Return one flag a ball: called a mishit, or far below the player's (else the block's) median."""
    if MEMO not in evidence.memo:
        evidence.memo[MEMO] = _flags(evidence)
    kept: NDArray[np.bool_] = evidence.memo[MEMO]
    return kept


def left_out_of_spreads(evidence: BlockEvidence) -> NDArray[np.bool_]:
    """Return one flag a ball: a mishit, or called thin."""
    flags = mishits(evidence).copy()
    for i, call in enumerate(evidence.calls):
        flags[i] |= call.contact == THIN
    return flags


def _flags(evidence: BlockEvidence) -> NDArray[np.bool_]:
    flags = np.zeros(evidence.count, dtype=bool)
    for i, call in enumerate(evidence.calls):
        flags[i] = call.contact in CALLED_MISHITS
    for quantity, share in (("smash_factor", MISHIT_SMASH_SHARE), ("carry_m", MISHIT_CARRY_SHARE)):
        values = column(quantity, evidence=evidence).values
        known = values[np.isfinite(values)]
        if known.size == 0:
            continue
        median = evidence.own_medians.get(quantity) or float(np.median(known))
        flags[: values.size] |= np.where(np.isfinite(values), values < share * median, False)
    return flags
