"""Consistency at address: the same setup built several times without a ball, and how alike the builds are.

It proves aim, ball position and shoulder line without a ball being hit. Pass marks are those of the drills that
practise them: common practice, no source.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from metrics.checkpoints import CHECKPOINTS
from metrics.intervals import mean_estimate, present, sd_interval, wilson_interval

SETUPS = 10
"""Setups of one check."""
SHOULDERS_TO_FEET = "shoulders_minus_feet_deg"
"""Not a checkpoint of its own: the shoulder line less the foot line of the same setup."""


@dataclass(frozen=True, kw_only=True)
class PassMark:
    """What has to hold over ten setups or more: ``share`` of them within ``tolerance`` of the wanted value, and
    where given, a mean size of the error and an SD no larger than these. All in the checkpoint's unit."""

    tolerance: float
    share: float = 0.8
    mean_error: float | None = None
    sd: float | None = None


PASS_MARKS: dict[str, PassMark] = {
    # The aim audit asks for the average error and the SD, not for a count.
    "feet_deg": PassMark(tolerance=2, share=0.0, mean_error=2, sd=2),
    "hips_deg": PassMark(tolerance=3), "shoulders_deg": PassMark(tolerance=3),
    SHOULDERS_TO_FEET: PassMark(tolerance=3),
    "ball_position_cm": PassMark(tolerance=1, share=1.0),
    "face_aim_deg": PassMark(tolerance=1), "stance_width_ratio": PassMark(tolerance=0.05),
}
"""By checkpoint. Hips, face and stance width are a choice; the others stand on drill cards."""


@dataclass(frozen=True, kw_only=True)
class AddressCheck:
    """One checkpoint over several setups. ``passed`` is None while there are too few of them."""

    checkpoint: str
    n: int
    wanted: float
    mark: PassMark
    bias: float
    bias_lo: float
    bias_hi: float
    mean_error: float
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
    *, checkpoint: str, values: Iterable[float], wanted: float, mark: PassMark | None = None,
    measured_within: float = 0.0, level: float = 0.95,
) -> AddressCheck:
    """Return bias and spread of a checkpoint over setups, and whether the pass mark is met.

    values: one number a setup in the checkpoint's unit, NaN where it was not measured (left out). wanted: the
    value aimed for. mark: the drill's pass mark unless given. measured_within: half-width of the measuring's own
    95 % interval. Passed is told from 10 setups on. Without a value everything is NaN. Raises ValueError for an
    unknown checkpoint, a tolerance of 0 or less, or where no mark is usual.
    """
    if checkpoint not in CHECKPOINTS and checkpoint not in PASS_MARKS:
        raise ValueError(f"there is no checkpoint {checkpoint!r}; expected one of {', '.join(CHECKPOINTS)}")
    rule = PASS_MARKS.get(checkpoint) if mark is None else mark
    if rule is None or rule.tolerance <= 0:
        raise ValueError(f"{checkpoint}: a pass mark with a tolerance above 0 is needed, got {rule}")
    data = present(values)
    mean = mean_estimate(values=data, level=level)
    spread = sd_interval(sd=mean.sd, n=mean.n, level=level)
    # A hair of room, so that 0.1 + 0.2 counts as 0.3.
    inside = int((abs(data - wanted) <= rule.tolerance + 1e-9).sum())
    share = wilson_interval(successes=inside, trials=mean.n, level=level)
    error = float(np.abs(data - wanted).mean()) if mean.n else math.nan
    return AddressCheck(
        checkpoint=checkpoint, n=mean.n, wanted=wanted, mark=rule, bias=mean.mean - wanted,
        bias_lo=mean.lo - wanted, bias_hi=mean.hi - wanted, mean_error=error, sd=mean.sd, sd_lo=spread[0],
        sd_hi=spread[1], inside=inside, share_lo=share[0], share_hi=share[1],
        passed=_passed(rule, n=mean.n, inside=inside, mean_error=error, sd=mean.sd) if mean.n >= SETUPS else None,
        within_error=measured_within > rule.tolerance,
    )


def _passed(mark: PassMark, *, n: int, inside: int, mean_error: float, sd: float) -> bool:
    return (inside >= math.ceil(mark.share * n - 1e-9)
            and (mark.mean_error is None or mean_error <= mark.mean_error + 1e-9)
            and (mark.sd is None or sd <= mark.sd + 1e-9))
