"""A block's carry at the reference condition, and two such blocks compared."""

from collections import Counter
from dataclasses import dataclass

import numpy as np

from metrics.flight.errors import model_error_m
from metrics.flight.normalise import Normalised
from metrics.flight.reasons import REFUSALS, WARNINGS
from metrics.flight.reference import ReferenceCondition
from metrics.flight.types import Array
from metrics.units import System, display

NAN = float("nan")


@dataclass(frozen=True, kw_only=True)
class VisitCarry:
    """The mean carry of one block, measured and at the reference condition, over the same ``n`` balls.

    ``shot_error_m`` shrinks with more balls, ``common_error_m`` (model and weather) does not. ``refusal`` is a code
    of ``metrics.flight.reasons.REFUSALS`` or empty; then the carries at the reference are NaN. ``left_out`` counts
    the balls without a number by code.
    """

    n: int
    category: str
    measured_m: float
    carry_m: float
    density_correction_m: float
    wind_correction_m: float
    shot_error_m: float
    model_error_m: float
    input_error_m: float
    estimated_spin: int
    outside_range: int
    left_out: dict[str, int]
    refusal: str
    reference: ReferenceCondition
    model_version: str

    @property
    def correction_m(self) -> float:
        """What the reference condition adds to the measured carry."""
        return self.density_correction_m + self.wind_correction_m

    @property
    def common_error_m(self) -> float:
        """Error shared by all balls of the block, 1 standard deviation."""
        return float(np.hypot(self.model_error_m, self.input_error_m))

    @property
    def standard_error_m(self) -> float:
        """Error of the mean at the reference condition, 1 standard deviation; NaN for a single ball."""
        return float(np.hypot(self.shot_error_m, self.common_error_m))


@dataclass(frozen=True, kw_only=True)
class CarryChange:
    """Second minus first mean carry at the reference condition; ``common_error_m`` does not shrink with balls."""

    change_m: float
    shot_error_m: float
    common_error_m: float
    refusal: str = ""

    @property
    def standard_error_m(self) -> float:
        """Error of the change, 1 standard deviation."""
        return float(np.hypot(self.shot_error_m, self.common_error_m))


def block_at_reference(*, normalised: Normalised) -> VisitCarry:
    """Return the mean carry of one block of balls with one kind of club.

    Balls refused one by one (a low launch, no ball speed) are left out and counted. The whole block is
    refused where carries of different provenance would be mixed, and where no ball has a number: then with
    the commonest reason. Standard error of the mean from the spread of the balls; NaN for one ball.
    """
    carries = np.atleast_1d(normalised.carry_m).ravel()
    codes = np.atleast_1d(normalised.refusal).ravel()
    there = np.isfinite(np.atleast_1d(normalised.measured_carry_m).ravel())
    origins = set(np.atleast_1d(normalised.provenance).ravel()[there].tolist())
    categories = set(np.atleast_1d(normalised.category).ravel()[there].tolist())
    left_out = Counter(code for code in codes.tolist() if code)
    used = codes == ""
    refusal = ""
    if len(origins) > 1:
        refusal = "mixed_provenance"
    elif len(categories) > 1:
        refusal = "different_club"
    elif not used.any():
        refusal = left_out.most_common(1)[0][0] if left_out else "no_carry"
    if refusal:
        used = np.zeros_like(used)

    def mean(values: Array) -> float:
        chosen = np.atleast_1d(values).ravel()[used]
        return float(chosen.mean()) if chosen.size else NAN

    n = int(used.sum())
    return VisitCarry(
        n=n, category=categories.pop() if len(categories) == 1 else "",
        measured_m=mean(normalised.measured_carry_m), carry_m=mean(normalised.carry_m),
        density_correction_m=mean(normalised.density_correction_m),
        wind_correction_m=mean(normalised.wind_correction_m),
        shot_error_m=float(carries[used].std(ddof=1) / np.sqrt(n)) if n > 1 else NAN,
        model_error_m=mean(normalised.model_error_m), input_error_m=mean(normalised.input_error_m),
        estimated_spin=int(np.sum(np.atleast_1d(normalised.estimated_spin).ravel() & used)),
        outside_range=int(np.sum(np.atleast_1d(normalised.outside_range).ravel() & used)),
        left_out=dict(left_out), refusal=refusal,
        reference=normalised.reference, model_version=normalised.model_version,
    )


def compare_blocks(*, first: VisitCarry, second: VisitCarry) -> CarryChange:
    """Return the change of carry at the reference condition from the first block to the second.

    The model's error is common to all balls of a visit and does not average out: f |D₂ − D₁| is added to the
    error of the change in quadrature, with the weather's own error of both visits. So between a 5 °C and a
    30 °C visit no number of balls proves a change of less than about 4 yd with a driver. Doubled where spin
    was estimated. Refused where either block is, the kinds of club differ, or reference or model differ.
    Source: spread of six published ball models, computed.
    """
    refusal = first.refusal or second.refusal
    if not refusal and first.category != second.category:
        refusal = "different_club"
    if not refusal and (first.reference, first.model_version) != (second.reference, second.model_version):
        refusal = "different_reference"
    if refusal:
        return CarryChange(change_m=NAN, shot_error_m=NAN, common_error_m=NAN, refusal=refusal)
    return CarryChange(
        change_m=second.carry_m - first.carry_m,
        shot_error_m=float(np.hypot(first.shot_error_m, second.shot_error_m)),
        common_error_m=_common_error_m(first, second),
    )


def _common_error_m(first: VisitCarry, second: VisitCarry) -> float:
    """The error of the difference of the two corrections, which vanishes for two visits in the same air."""
    model = model_error_m(
        density_correction_m=np.array([second.density_correction_m - first.density_correction_m]),
        wind_correction_m=np.array([second.wind_correction_m - first.wind_correction_m]),
        category=np.array([first.category]), smallest_m=0.0,
    )[0]
    if first.estimated_spin or second.estimated_spin:
        model *= 2
    return float(np.sqrt(model**2 + first.input_error_m**2 + second.input_error_m**2))


def why(*, visit: VisitCarry, system: System) -> str:
    """Say in one or two sentences what was corrected and how sure that is, in the reader's units.

    For a refused block the sentence of its reason. Numbers are rounded to the decimal worth showing.
    """
    if visit.refusal:
        return REFUSALS[visit.refusal]

    def shown(metres: float) -> str:
        number, unit = display(field_key="carry_m", value=abs(metres), system=system)
        return f"{number:.1f} {unit}"

    verb = "more" if visit.correction_m >= 0 else "less"
    balls = "this ball" if visit.n == 1 else f"these {visit.n} balls"
    text = (
        f"In the reference air ({visit.reference.words}) {balls} would carry "
        f"{shown(visit.correction_m)} {verb} than measured, give or take {shown(visit.common_error_m)}."
    )
    if visit.wind_correction_m:
        part = "took off" if visit.wind_correction_m > 0 else "added"
        text += f" The measured wind {part} {shown(visit.wind_correction_m)} of it."
    for count, code in ((visit.estimated_spin, "estimated_spin"), (visit.outside_range, "outside_range")):
        if count:
            text += f" {WARNINGS[code]}"
    return text
