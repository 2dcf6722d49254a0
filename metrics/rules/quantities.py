"""The quantities a condition may ask about: stored fields, and a few made from them ball by ball.

What is exact is computed (face to path from face and path, smash from speeds). What is inferred says so:
face to path from start direction and path uses the measured share of face in the start line, so its
uncertainty is near one degree (``metrics.flight.families``).
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache

import numpy as np

from metrics.checkpoints import CHECKPOINTS
from metrics.fields import FIELDS
from metrics.rules.limits import intent_window, start_share
from metrics.rules.types import Balls, BlockEvidence, Shots


@dataclass(frozen=True, kw_only=True)
class QuantityInfo:
    """How a quantity is called and written, and whether wind leaves it alone."""

    label: str
    unit: str
    digits: int
    survives_wind: bool = True


@dataclass(frozen=True, kw_only=True)
class Column:
    """One value a ball (NaN = missing); ``inferred`` where it was not measured but worked out with an error."""

    values: Balls
    inferred: bool = False

    @property
    def empty(self) -> bool:
        """True where no ball has the value."""
        return not bool(np.any(np.isfinite(self.values)))


_DERIVED: Mapping[str, QuantityInfo] = {
    "side_pct_carry": QuantityInfo(label="Finish to the side", unit="% of carry", digits=1, survives_wind=False),
    "carry_error_pct": QuantityInfo(label="Carry error", unit="%", digits=1, survives_wind=False),
    "leave_pct": QuantityInfo(label="Distance left", unit="% of the putt", digits=1),
    "path_off_middle_deg": QuantityInfo(label="Path from the middle of your window", unit="°", digits=1),
    "launch_pct_own": QuantityInfo(label="Launch against your own usual", unit="%", digits=0),
    "full_effort": QuantityInfo(label="Full effort stated", unit="", digits=0),
    "face_or_start_deg": QuantityInfo(label="Face or start direction", unit="°", digits=1),
    "ball-spread": QuantityInfo(label="Spread of the ball position (SD)", unit="cm", digits=1),
    "shoulders_minus_feet_deg": QuantityInfo(label="Shoulders against feet", unit="°", digits=0),
    "flight": QuantityInfo(label="Called flights", unit="balls", digits=0),
    "contact": QuantityInfo(label="Clean contact", unit="balls", digits=0),
    "result": QuantityInfo(label="Out and on the green", unit="balls", digits=0),
}


@cache
def info(quantity: str) -> QuantityInfo:
    """Return label, unit and digits of a quantity, whether stored, derived or a checkpoint."""
    if quantity in FIELDS:
        field = FIELDS[quantity]
        return QuantityInfo(label=field.label, unit=field.unit, digits=field.digits,
                            survives_wind=field.survives_wind)
    if quantity in CHECKPOINTS:
        point = CHECKPOINTS[quantity]
        return QuantityInfo(label=point.label, unit=point.unit, digits=point.digits)
    return _DERIVED.get(quantity, QuantityInfo(label=quantity, unit="", digits=1))


def column(quantity: str, *, evidence: BlockEvidence, shots: Shots | None = None) -> Column:
    """Return the quantity for every ball of the block (or of ``shots``), all NaN where it cannot be had."""
    if shots is not None:
        return _made(quantity, evidence, shots)
    if quantity not in evidence.memo:
        evidence.memo[quantity] = _made(quantity, evidence, evidence.shots)
    kept: Column = evidence.memo[quantity]
    return kept


def _made(quantity: str, evidence: BlockEvidence, source: Shots) -> Column:
    stored = _stored(source, quantity)
    if not stored.empty:
        return stored
    maker = _MAKERS.get(quantity)
    return maker(source, evidence) if maker else stored


def _stored(shots: Shots, key: str) -> Column:
    values = shots.get(key)
    if values is None:
        return Column(values=np.full(0, np.nan))
    array = np.asarray(values, dtype=np.float64)
    return Column(values=np.where(np.isfinite(array), array, np.nan))


def _both(shots: Shots, a: str, b: str) -> tuple[Balls, Balls] | None:
    first, second = _stored(shots, a), _stored(shots, b)
    if first.empty or second.empty or first.values.shape != second.values.shape:
        return None
    return first.values, second.values


def _none() -> Column:
    return Column(values=np.full(0, np.nan))


def _face_to_path(shots: Shots, evidence: BlockEvidence) -> Column:
    if pair := _both(shots, "face_angle_deg", "club_path_deg"):
        return Column(values=pair[0] - pair[1])
    if pair := _both(shots, "launch_direction_deg", "club_path_deg"):
        return Column(values=(pair[0] - pair[1]) / start_share(evidence.club_category), inferred=True)
    return _none()


def _face(shots: Shots, evidence: BlockEvidence) -> Column:
    pair = _both(shots, "club_path_deg", "face_to_path_deg")
    return Column(values=pair[0] + pair[1]) if pair else _none()


def _smash(shots: Shots, evidence: BlockEvidence) -> Column:
    pair = _both(shots, "ball_speed_mps", "club_speed_mps")
    if pair is None:
        return _none()
    return Column(values=pair[0] / np.where(pair[1] > 0, pair[1], np.nan))


def _side_pct(shots: Shots, evidence: BlockEvidence) -> Column:
    pair = _both(shots, "side_m", "carry_m")
    if pair is None:
        return _none()
    return Column(values=100.0 * pair[0] / np.where(pair[1] > 0, pair[1], np.nan))


def _error_pct(key: str) -> Callable[[Shots, BlockEvidence], Column]:
    def make(shots: Shots, evidence: BlockEvidence) -> Column:
        stored = _stored(shots, key)
        if stored.empty or not evidence.target_m:
            return _none()
        return Column(values=100.0 * (stored.values - evidence.target_m) / evidence.target_m)
    return make


def _start(shots: Shots, evidence: BlockEvidence) -> Column:
    """Start direction where it was not measured: the face's share of it, the rest from the path."""
    path, face = _stored(shots, "club_path_deg"), column("face_angle_deg", evidence=evidence, shots=shots)
    if path.empty or face.empty or path.values.shape != face.values.shape:
        return _none()
    share = start_share(evidence.club_category)
    return Column(values=share * face.values + (1 - share) * path.values, inferred=True)


def _path_off_middle(shots: Shots, evidence: BlockEvidence) -> Column:
    window = intent_window("club_path_deg", evidence=evidence)
    path = _stored(shots, "club_path_deg")
    return Column(values=path.values - sum(window) / 2) if window else _none()


def _launch_pct_own(shots: Shots, evidence: BlockEvidence) -> Column:
    own, launch = evidence.own_medians.get("launch_angle_deg"), _stored(shots, "launch_angle_deg")
    return Column(values=100.0 * launch.values / own) if own and own > 0 else _none()


def _face_or_start(shots: Shots, evidence: BlockEvidence) -> Column:
    face = column("face_angle_deg", evidence=evidence, shots=shots)
    return face if not face.empty else _stored(shots, "launch_direction_deg")


_MAKERS: Mapping[str, Callable[[Shots, BlockEvidence], Column]] = {
    "face_to_path_deg": _face_to_path, "face_angle_deg": _face, "smash_factor": _smash,
    "side_pct_carry": _side_pct, "carry_error_pct": _error_pct("carry_m"),
    "launch_direction_deg": _start, "path_off_middle_deg": _path_off_middle,
    "launch_pct_own": _launch_pct_own, "leave_pct": _error_pct("total_m"), "face_or_start_deg": _face_or_start,
}
