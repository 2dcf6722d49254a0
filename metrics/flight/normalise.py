"""Carry at one reference condition: the measured carry plus what the model says the air changed.

The model's value never takes the place of the measured one; only the difference of two model flights with the
same launch is added, so that most of what is wrong with the model drops out.
"""

from dataclasses import dataclass, replace
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from metrics.constants import MODEL_VERSION
from metrics.flight.errors import USUAL_ERRORS, InputErrors, club_values, input_error_m, model_error_m
from metrics.flight.reference import REFERENCE, ReferenceCondition
from metrics.flight.refuse import Flags, Texts, refusals
from metrics.flight.trajectory import fly, within_range
from metrics.flight.types import Air, Array, Ball, Launch, Values

Part = TypeVar("Part", Launch, Air, Ball)

_MODEL_BALL = Ball()


@dataclass(frozen=True, kw_only=True)
class Normalised:
    """Carries at the reference condition, one entry for each ball; NaN where ``refusal`` says why not.

    ``refusal`` holds codes of ``metrics.flight.reasons.REFUSALS``, empty where there is a number. The correction
    is the sum of its density and its wind part. The errors are 1 standard deviation and common to all balls
    of a visit: they do not average out. Store ``reference`` and ``model_version`` with every number.
    """

    measured_carry_m: Array
    carry_m: Array
    correction_m: Array
    density_correction_m: Array
    wind_correction_m: Array
    model_error_m: Array
    input_error_m: Array
    standard_error_m: Array
    side_m: Array
    side_correction_m: Array
    refusal: NDArray[np.str_]
    provenance: NDArray[np.str_]
    category: NDArray[np.str_]
    estimated_spin: NDArray[np.bool_]
    outside_range: NDArray[np.bool_]
    reference: ReferenceCondition
    model_version: str = MODEL_VERSION


def normalise(
    *,
    carry_m: Values,
    launch: Launch,
    air: Air | None,
    category: Texts,
    provenance: Texts,
    indoor: Flags = False,
    side_m: Values = np.nan,
    ball: Ball = _MODEL_BALL,
    errors: InputErrors = USUAL_ERRORS,
    reference: ReferenceCondition = REFERENCE,
) -> Normalised:
    """State measured carry at the reference condition: carry + [model(reference) − model(actual)].

    All inputs broadcast to one shape; NaN is "missing". ``air`` None means the weather is not known; leave its
    wind at zero unless it was measured on site. Refused, with a code for each ball: carry that was not
    measured outdoors, no full flight, no air, wind above 10 mph, no ball speed or launch angle, launch under
    8°, carry under 50 yd. Missing spin is replaced by the usual spin of the club, flagged, and the error
    doubled. A missing start direction or axis counts as straight for the carry and refuses the side (NaN).
    Launches the model was not checked on are computed and flagged.

    Error: max(0.5 yd, f |D|) with f for the club and the cause, and the weather's own error in quadrature.
    Source: difference method and f computed with six published ball models; the limits are judgement.
    """
    refusal = np.asarray(refusals(
        carry_m=carry_m, launch=launch, air=air, category=category, provenance=provenance, indoor=indoor
    ))
    shape = refusal.shape
    kind = np.broadcast_to(np.asarray(category), shape)
    estimated = np.broadcast_to(np.isnan(launch.spin_rpm), shape)
    wanted = refusal == ""
    known = _complete(launch, kind)
    corrections = np.full((3, *shape), np.nan)
    if air is not None and wanted.any():
        corrections[:, wanted] = _corrections(
            _only(known, shape, wanted), _only(air, shape, wanted), _only(ball, shape, wanted), reference
        )
    refusal = np.where(wanted & np.isnan(corrections[0]), "no_flight", refusal)
    density, wind, side_correction = corrections
    in_wind = np.zeros(shape, bool) if air is None else np.broadcast_to(_windy(air), shape)
    # Without a measured spin both the correction and its error rest on the usual spin of the club.
    factor = np.where(estimated, 2.0, 1.0) + 0 * density
    model = factor * model_error_m(density_correction_m=density, wind_correction_m=wind, category=kind)
    inputs = factor * input_error_m(category=kind, in_wind=in_wind, errors=errors)
    carry, side = (np.broadcast_to(np.asarray(each, dtype=float), shape) for each in (carry_m, side_m))
    straight = np.isnan(launch.launch_direction_deg) | np.isnan(launch.spin_axis_deg)
    side_correction = np.where(straight, np.nan, side_correction)
    return Normalised(
        measured_carry_m=carry, carry_m=carry + density + wind, correction_m=density + wind,
        density_correction_m=density, wind_correction_m=wind,
        model_error_m=model, input_error_m=inputs, standard_error_m=np.hypot(model, inputs),
        side_m=side + side_correction, side_correction_m=side_correction,
        refusal=refusal, provenance=np.broadcast_to(np.asarray(provenance), shape), category=kind,
        estimated_spin=estimated & (refusal == ""), outside_range=~within_range(launch=known) & (refusal == ""),
        reference=reference,
    )


def _corrections(launch: Launch, air: Air, ball: Ball, reference: ReferenceCondition) -> Array:
    """Rows: carry correction for density, for wind, and side correction; one column for each ball."""
    still = replace(air, wind_along_mps=0.0 * air.density_kg_m3, wind_slice_mps=0.0 * air.density_kg_m3)
    stated = fly(launch=launch, air=reference.air, ball=ball)
    calm = fly(launch=launch, air=still, ball=ball)
    carry, side = np.array(calm.carry_m), np.array(calm.side_m)
    windy = _windy(air)
    if windy.any():
        blown = fly(
            launch=_only(launch, windy.shape, windy), air=_only(air, windy.shape, windy),
            ball=_only(ball, windy.shape, windy),
        )
        carry[windy], side[windy] = blown.carry_m, blown.side_m
    return np.array([stated.carry_m - calm.carry_m, calm.carry_m - carry, stated.side_m - side])


def _windy(air: Air) -> NDArray[np.bool_]:
    return np.asarray(np.hypot(air.wind_along_mps, air.wind_slice_mps) > 0)


def _complete(launch: Launch, category: NDArray[np.str_]) -> Launch:
    """The launch with the usual spin of the club, a straight start and no tilt where they are missing."""
    usual = club_values(category=category, name="usual_spin_rpm")
    return replace(
        launch,
        spin_rpm=np.where(np.isnan(launch.spin_rpm), usual, launch.spin_rpm),
        launch_direction_deg=np.nan_to_num(launch.launch_direction_deg),
        spin_axis_deg=np.nan_to_num(launch.spin_axis_deg),
    )


def _only(part: Part, shape: tuple[int, ...], wanted: NDArray[np.bool_]) -> Part:
    """A launch, an air or a ball, broadcast and cut down to the balls wanted."""
    fields = {
        name: np.broadcast_to(np.asarray(value, dtype=float), shape)[wanted] for name, value in vars(part).items()
    }
    return type(part)(**fields)
