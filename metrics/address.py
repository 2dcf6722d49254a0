"""Consistency at address: the same setup built several times without a ball, and how alike the builds are.

It proves aim, ball position and shoulder line without a ball being hit. Pass marks follow the drills: common
practice, no source.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass

from metrics.checkpoints import CHECKPOINTS
from metrics.intervals import mean_estimate, present, sd_interval, wilson_interval

SETUPS = 10
"""Setups of one check."""
PASS_SHARE = 0.8
"""Share of them that must lie inside the tolerance."""
TOLERANCES: dict[str, float] = {
    "feet_deg": 3, "hips_deg": 3, "shoulders_deg": 3, "ball_position_cm": 1, "face_aim_deg": 1,
    "stance_width_ratio": 0.05,
}
"""Half-width around the wanted value, in the checkpoint's unit; stance width is a choice."""


@dataclass(frozen=True, kw_only=True)
class AddressCheck:
    """One checkpoint over several setups. ``passed`` is None while there are too few of them."""

    checkpoint: str
    n: int
    wanted: float
    tolerance: float
    bias: float
    bias_lo: float
    bias_hi: float
    sd: float
    sd_lo: float
    sd_hi: float
    inside: int
    share_lo: float
    share_hi: float
    passed: bool | None
    within_error: bool
    """Whether the tolerance is smaller than what the measuring itself can tell."""


def address_check(
    *, checkpoint: str, values: Iterable[float], wanted: float, tolerance: float | None = None,
    measured_within: float = 0.0, level: float = 0.95,
) -> AddressCheck:
    """Return bias and spread of a checkpoint over setups, and whether the pass mark is met.

    values: one number a setup in the checkpoint's unit, NaN where it was not measured (left out). wanted: the
    value aimed for. tolerance: half-width around it, the usual one unless given. measured_within: half-width of
    the measuring's own 95 % interval. Passed: 10 setups or more and 8 in 10 inside. Without a value everything is
    NaN. Raises ValueError for an unknown checkpoint, a tolerance of 0 or less, or none where none is usual.
    """
    if checkpoint not in CHECKPOINTS:
        raise ValueError(f"there is no checkpoint {checkpoint!r}; expected one of {', '.join(CHECKPOINTS)}")
    allowed = TOLERANCES.get(checkpoint) if tolerance is None else tolerance
    if allowed is None or allowed <= 0:
        raise ValueError(f"{CHECKPOINTS[checkpoint].label}: a tolerance above 0 is needed, got {allowed}")
    data = present(values)
    mean = mean_estimate(values=data, level=level)
    spread = sd_interval(sd=mean.sd, n=mean.n, level=level)
    # A hair of room, so that 0.1 + 0.2 counts as 0.3.
    inside = int((abs(data - wanted) <= allowed + 1e-9).sum())
    share = wilson_interval(successes=inside, trials=mean.n, level=level)
    enough = mean.n >= SETUPS
    return AddressCheck(
        checkpoint=checkpoint, n=mean.n, wanted=wanted, tolerance=allowed, bias=mean.mean - wanted,
        bias_lo=mean.lo - wanted, bias_hi=mean.hi - wanted, sd=mean.sd, sd_lo=spread[0], sd_hi=spread[1],
        inside=inside, share_lo=share[0], share_hi=share[1],
        passed=inside >= math.ceil(PASS_SHARE * mean.n) if enough else None,
        within_error=measured_within > allowed,
    )
