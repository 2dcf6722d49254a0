"""A block's carry at the reference condition: worked out when it is first read after a ball changed, then kept in
the block's summary.

What goes in besides the balls (weather, venue, device, kind of club, model) is kept beside the numbers, so that a
reader can tell whether they still hold when the conditions of the hour are corrected later.
"""

from collections.abc import Sequence
from dataclasses import asdict, dataclass, replace
from typing import Any

import numpy as np

from metrics.constants import MODEL_VERSION
from metrics.flight.air import AirError, air_at
from metrics.flight.errors import USUAL_ERRORS, InputErrors
from metrics.flight.normalise import Normalised, normalise
from metrics.flight.reasons import REFUSALS
from metrics.flight.reference import REFERENCE, ReferenceCondition
from metrics.flight.types import Air, Launch
from metrics.flight.visit import NAN, VisitCarry, block_at_reference

from .frames import BlockShots
from .models import Block, Lesson

BY_ALTITUDE = InputErrors(pressure_hpa=10.0)
"""The weather moves the pressure of a place by that much where only its altitude is known. Common practice."""

FELT_WIND = "felt_wind"
REASONS = REFUSALS | {
    FELT_WIND: "Windy, not comparable: the wind was felt but not measured, so what it did cannot be taken out.",
}
_LAUNCH = ("ball_speed_mps", "launch_angle_deg", "spin_rpm", "launch_direction_deg", "spin_axis_deg")
_NUMBERS = (
    "measured_m", "carry_m", "density_correction_m", "wind_correction_m", "shot_error_m", "model_error_m",
    "input_error_m",
)


@dataclass(frozen=True, kw_only=True)
class DayAir:
    """The air of one lesson, or in words why it is not known."""

    air: Air | None
    problem: str = ""


def air_of(lesson: Lesson) -> DayAir:
    """Return the air of a lesson: its temperature, its pressure or the venue's altitude, the wind if measured."""
    altitude = lesson.venue.altitude_m if lesson.venue else None
    if lesson.temperature_c is None or (lesson.pressure_hpa is None and altitude is None):
        return DayAir(air=None)
    try:
        return DayAir(air=air_at(
            temperature_c=lesson.temperature_c, pressure_hpa=lesson.pressure_hpa, altitude_m=altitude,
            wind_along_mps=lesson.wind_along_mps or 0.0, wind_slice_mps=lesson.wind_cross_mps or 0.0,
        ))
    except AirError as error:
        return DayAir(air=None, problem=str(error))


def wind_is_only_felt(lesson: Lesson) -> bool:
    """Say whether somebody noted wind without measuring it."""
    return lesson.is_windy and lesson.wind_along_mps is None and lesson.wind_cross_mps is None


def is_indoor(lesson: Lesson) -> bool:
    """Say whether the ball flew into a net, so that any carry is worked out by the device."""
    return bool((lesson.venue and lesson.venue.indoor) or (lesson.device and lesson.device.is_indoor_model))


def provenance_of(*, lesson: Lesson, shots: BlockShots) -> np.ndarray:
    """Return for each ball how its carry came about: what the ball says, else what its device says."""
    usual = lesson.device.carry_provenance if lesson.device else ""
    return np.array([own or usual for own in shots.provenance], dtype="<U10")


def inputs_of(block: Block) -> dict[str, Any]:
    """Return what the numbers rest on besides the balls, as plain JSON."""
    lesson = block.lesson
    return {
        "category": block.category, "temperature_c": lesson.temperature_c, "pressure_hpa": lesson.pressure_hpa,
        "altitude_m": lesson.venue.altitude_m if lesson.venue else None, "indoor": is_indoor(lesson),
        "wind_along_mps": lesson.wind_along_mps, "wind_cross_mps": lesson.wind_cross_mps,
        "is_windy": lesson.is_windy, "usual_provenance": lesson.device.carry_provenance if lesson.device else "",
        "condition": asdict(REFERENCE), "model_version": MODEL_VERSION,
    }


def normalised(*, block: Block, shots: BlockShots) -> Normalised:
    """Return every ball of a block stated at the reference condition; balls without a carry are refused one by one."""
    return _normalised([(block, shots)])


def references_of(cases: Sequence[tuple[Block, BlockShots]]) -> list[dict[str, Any] | None]:
    """Return for each block what is stored of its carry at the reference condition; None where it has no carry.

    The balls that count: not taken out by the coach, mishits left out. All balls of all blocks are flown together.
    No query where the lessons came with venue and device.
    """
    struck = [(block, _struck(shots)) for block, shots in cases]
    with_carry = [(block, shots) for block, shots in struck if shots.count]
    if not with_carry:
        return [None] * len(struck)
    whole = _normalised(with_carry)
    ends = np.cumsum([shots.count for _, shots in with_carry])
    found = {
        block.pk: _stored(block, shots, _cut(whole, slice(end - shots.count, end)))
        for (block, shots), end in zip(with_carry, ends, strict=True)
    }
    return [found.get(block.pk) for block, _ in struck]


def is_current(*, block: Block, stored: dict[str, Any] | None) -> bool:
    """Say whether stored numbers still rest on the conditions as they are noted now. None rests on nothing."""
    return stored is None or stored.get("inputs") == inputs_of(block)


def visit_carry(stored: dict[str, Any]) -> VisitCarry:
    """Return stored numbers as the number room reads them."""
    refused = stored["refusal"]
    return VisitCarry(
        **{name: NAN if stored[name] is None else stored[name] for name in _NUMBERS},
        n=stored["n"], category=stored["category"], estimated_spin=stored["estimated_spin"],
        outside_range=stored["outside_range"], left_out=stored["left_out"], refusal=refused,
        reference=ReferenceCondition(**stored["condition"]), model_version=stored["model_version"],
    )


def has_carry(shots: BlockShots) -> bool:
    """Say whether there is a ball whose carry could be stated at the reference condition."""
    return _struck(shots).count > 0


def _struck(shots: BlockShots) -> BlockShots:
    carry = shots.numbers.get("carry_m", np.full(shots.count, np.nan))
    return shots.where(~shots.excluded & ~shots.mishit & np.isfinite(carry))


def _normalised(cases: Sequence[tuple[Block, BlockShots]]) -> Normalised:
    """Fly the balls of many blocks together; the weather's own error follows how its pressure is known."""
    def column(name: str) -> np.ndarray:
        return np.concatenate([shots.numbers.get(name, np.full(shots.count, np.nan)) for _, shots in cases])

    def repeated(values: list[Any]) -> np.ndarray:
        return np.repeat(np.array(values), [shots.count for _, shots in cases])

    airs = [air_of(block.lesson).air for block, _ in cases]
    nowhere = Air(density_kg_m3=NAN, kinematic_viscosity_m2_s=NAN)
    given = {
        "carry_m": column("carry_m"), "side_m": column("side_m"),
        "launch": Launch(**{name: column(name) for name in _LAUNCH}),
        "air": Air(**{
            name: repeated([getattr(air or nowhere, name) for air in airs]) for name in Air.__dataclass_fields__
        }),
        "category": repeated([block.category for block, _ in cases]),
        "provenance": np.concatenate([provenance_of(lesson=block.lesson, shots=shots) for block, shots in cases]),
        "indoor": repeated([is_indoor(block.lesson) for block, _ in cases]),
    }
    measured = repeated([block.lesson.pressure_hpa is not None for block, _ in cases])
    return normalise(**given, errors=InputErrors(
        temperature_c=USUAL_ERRORS.temperature_c, wind_mps=USUAL_ERRORS.wind_mps,
        pressure_hpa=np.where(measured, USUAL_ERRORS.pressure_hpa, BY_ALTITUDE.pressure_hpa),
    ))


def _cut(whole: Normalised, part: slice) -> Normalised:
    arrays = {name: value[part] for name, value in vars(whole).items() if isinstance(value, np.ndarray)}
    return replace(whole, **arrays)


def _stored(block: Block, shots: BlockShots, balls: Normalised) -> dict[str, Any]:
    visit = block_at_reference(normalised=balls)
    lesson = block.lesson
    if wind_is_only_felt(lesson) and visit.refusal in ("", "no_air"):
        visit = replace(visit, n=0, refusal=FELT_WIND, **dict.fromkeys(_NUMBERS, NAN))
    used = np.isfinite(balls.carry_m) & (visit.refusal == "")
    sentence = REASONS.get(visit.refusal, "")
    if visit.refusal == "no_air":
        sentence = air_of(lesson).problem or sentence
    return {
        **{name: _plain(getattr(visit, name)) for name in _NUMBERS},
        "n": visit.n, "sd": _plain(balls.carry_m[used].std(ddof=1)) if used.sum() > 1 else None,
        "correction_m": _plain(visit.correction_m), "standard_error_m": _plain(visit.standard_error_m),
        "category": visit.category, "estimated_spin": visit.estimated_spin,
        "outside_range": visit.outside_range, "left_out": visit.left_out,
        "refusal": visit.refusal, "sentence": sentence,
        "condition": asdict(visit.reference), "model_version": visit.model_version, "inputs": inputs_of(block),
        "carries": [[shots.keys[i], round(float(balls.carry_m[i]), 3)] for i in np.flatnonzero(used)],
    }


def _plain(value: float) -> float | None:
    return round(float(value), 6) if np.isfinite(value) else None
