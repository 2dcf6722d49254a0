"""From one column of one block to the number a condition tests, with its 80 % interval."""


from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from metrics.checkpoints import CHECKPOINTS
from metrics.intervals import mean_estimate, sd_interval, wilson_interval
from metrics.rules.club_fit import lie_from_starts
from metrics.rules.limits import sd_prior_of
from metrics.rules.mishits import LEFT_OUT_OF, left_out_of_spreads, mishits
from metrics.rules.pairs import LEVEL, Estimate, difference, of_pair
from metrics.rules.quantities import Column, column
from metrics.rules.route_records import CallMatch, Condition
from metrics.rules.types import BallCall, Balls, BlockEvidence

SPREAD_OF = {"ball-spread": "ball_position_cm"}
"""Checks that ask for the spread of a checkpoint over repeated setups, by their slug."""
DRIFT_BALLS = 10
"""First ten against last ten."""


def estimate(condition: Condition, *, evidence: BlockEvidence) -> Estimate | None:
    """Return what the condition tests, or None where its columns, calls or setup numbers are missing."""
    if condition.statistic == "setup":
        return _setup(condition.quantity, evidence)
    if condition.statistic == "lie_from_starts":
        return lie_from_starts(evidence)
    if condition.statistic == "change":
        return _change(condition.quantity, evidence)
    if condition.statistic in ("aid_gap", "given_back"):
        return of_pair(condition, evidence=evidence)
    if condition.calls is not None:
        return _called(condition.calls, condition.quantity, evidence)
    if condition.statistic != "mean":
        return _of_column(condition, evidence)
    key = f"mean of {condition.quantity}"
    if key not in evidence.memo:
        evidence.memo[key] = _of_column(condition, evidence)
    kept: Estimate | None = evidence.memo[key]
    return kept


def _of_column(condition: Condition, evidence: BlockEvidence) -> Estimate | None:
    data = column(condition.quantity, evidence=evidence)
    struck = np.isfinite(data.values)
    left_out = _left_out(condition, data.values, evidence) & struck
    values = data.values[struck & ~left_out]
    if values.size == 0:
        return None
    found = _of_values(condition, values, evidence)
    return found and replace(found, inferred=data.inferred, left_out=int(left_out.sum()))


def _left_out(condition: Condition, values: Balls, evidence: BlockEvidence) -> NDArray[np.bool_]:
    """Mishits stay in rates and out of averages and spreads of the flight."""
    rate = condition.statistic in ("share", "both_sides")
    if rate or condition.quantity not in LEFT_OUT_OF or values.size == 0:
        return np.zeros(values.size, dtype=bool)
    flags = left_out_of_spreads(evidence) if condition.statistic.startswith(("sd", "cv")) else mishits(evidence)
    return flags[: values.size]


def _of_values(condition: Condition, values: Balls, evidence: BlockEvidence) -> Estimate | None:
    match condition.statistic:
        case "mean":
            return _mean(values)
        case "mean_abs":
            return _mean(np.abs(values))
        case "minus_own_median" | "percent_of_own_median":
            return _against_own(condition, values, evidence)
        case "sd" | "cv" | "sd_over_prior" | "cv_over_prior":
            return _spread(condition, values, evidence)
        case "share":
            return _share(condition, values)
        case "both_sides":
            return _both_sides(condition, values)
        case "drift":
            return _drift(values)
    return None


def _mean(values: Balls) -> Estimate:
    m = mean_estimate(values=values, level=LEVEL)
    return Estimate(value=m.mean, lo=m.lo, hi=m.hi, sd=m.sd, n=m.n)


def _against_own(condition: Condition, values: Balls, evidence: BlockEvidence) -> Estimate | None:
    own = evidence.own_medians.get(condition.quantity)
    if own is None or (condition.statistic == "percent_of_own_median" and own <= 0):
        return None
    if condition.statistic == "minus_own_median":
        return _mean(values - own)
    return _mean(100.0 * values / own)


def _spread(condition: Condition, values: Balls, evidence: BlockEvidence) -> Estimate | None:
    if values.size < 3:
        return None
    sd = float(np.std(values, ddof=1))
    scale = 1.0
    if condition.statistic.startswith("cv"):
        mean = float(np.mean(values))
        if mean <= 0:
            return None
        scale = mean / 100.0
    if condition.statistic.endswith("over_prior"):
        prior = sd_prior_of(condition.quantity, evidence=evidence)
        if prior is None:
            return None
        scale *= prior
    lo, hi = sd_interval(sd=sd, n=int(values.size), level=LEVEL)
    return Estimate(value=sd / scale, lo=lo / scale, hi=hi / scale, sd=sd, n=int(values.size))


def _share(condition: Condition, values: Balls) -> Estimate:
    assert condition.cut is not None
    past = values >= condition.cut if condition.cut_side == "above" else values <= condition.cut
    return _rate(int(np.sum(past)), int(values.size), measured=True)


def _rate(hits: int, trials: int, *, measured: bool) -> Estimate:
    lo, hi = wilson_interval(successes=hits, trials=trials, level=LEVEL)
    return Estimate(value=hits / trials, lo=lo, hi=hi, sd=None, n=trials, measured=measured)


def _both_sides(condition: Condition, values: Balls) -> Estimate:
    """The rarer of the two sides: balls beyond +cut and balls beyond −cut."""
    assert condition.cut is not None
    fewer = min(int(np.sum(values >= condition.cut)), int(np.sum(values <= -condition.cut)))
    return _rate(fewer, int(values.size), measured=True)


def _called(match: CallMatch, quantity: str, evidence: BlockEvidence) -> Estimate | None:
    judged = [call for call in evidence.calls if _was_called(match, call)]
    if not judged:
        return None
    return _rate(sum(_matches(match, call) for call in judged), len(judged), measured=False)


def _was_called(match: CallMatch, call: BallCall) -> bool:
    """True where the coach called everything this match looks at."""
    return not ((match.start and call.start is None) or (match.curve and call.curve is None)
                or (match.height and call.height is None) or (match.contact and call.contact is None)
                or (match.done is not None and call.done is None))


def _matches(match: CallMatch, call: BallCall) -> bool:
    return ((not match.start or call.start in match.start) and (not match.curve or call.curve in match.curve)
            and (not match.height or call.height in match.height)
            and (not match.contact or call.contact in match.contact)
            and (match.done is None or call.done == match.done))


def setup_value(quantity: str, *, evidence: BlockEvidence) -> float | None:
    """Return a checkpoint's value, or the difference of shoulder and foot line."""
    if quantity == "shoulders_minus_feet_deg":
        shoulders, feet = evidence.setup.get("shoulders_deg"), evidence.setup.get("feet_deg")
        return None if shoulders is None or feet is None else shoulders - feet
    if quantity in SPREAD_OF:
        return evidence.setup_spread.get(SPREAD_OF[quantity])
    if quantity == "full_effort":
        return None if evidence.effort_full is None else float(evidence.effort_full)
    return evidence.setup.get(quantity)


def _setup(quantity: str, evidence: BlockEvidence) -> Estimate | None:
    value = setup_value(quantity, evidence=evidence)
    if value is None:
        return None
    error = 3.0 if quantity not in CHECKPOINTS else (CHECKPOINTS[quantity].photo_error or 0.0)
    return Estimate(value=value, lo=value - error, hi=value + error, sd=None, n=1)


def _change(quantity: str, evidence: BlockEvidence) -> Estimate | None:
    """How far the block mean moved since the block before the setup change; None without such a change."""
    if evidence.change is None or evidence.change.checkpoint != "ball_position_cm":
        return None
    before = _finite(column(quantity, evidence=evidence, shots=evidence.change.shots_before))
    now = _finite(column(quantity, evidence=evidence))
    if before.size < 2 or now.size < 2:
        return None
    return difference(before, b=now)


def _drift(values: Balls) -> Estimate | None:
    if values.size < 2 * DRIFT_BALLS:
        return None
    gap = difference(values[:DRIFT_BALLS], b=values[-DRIFT_BALLS:])
    return Estimate(value=gap.value, lo=gap.lo, hi=gap.hi, sd=gap.sd, n=int(values.size))


def _finite(data: Column) -> Balls:
    return data.values[np.isfinite(data.values)]
