"""How the balls of a block flew, counted and said in words for the player's hand."""

from collections import Counter
from dataclasses import dataclass

import numpy as np

from metrics.flight.shape import STANDARD_LIMITS, Shape, curve_from_side_m, shape_of, words
from metrics.flight.trajectory import fly
from metrics.flight.types import Launch
from metrics.rules.types import BallCall

from .balls import LAUNCH, BlockBalls


@dataclass(frozen=True, kw_only=True)
class ShapeCount:
    """One shape and how many balls had it."""

    words: str
    count: int
    out_of: int


@dataclass(frozen=True, kw_only=True)
class Shapes:
    """All shapes of a block, commonest first, with what has to be said about them."""

    counts: tuple[ShapeCount, ...]
    balls: int
    unknown: int
    notes: tuple[str, ...]


def shapes_of(balls: BlockBalls) -> Shapes:
    """Return the counted shapes of the struck balls: by the numbers where there are any, else as called.

    Curves come from side and carry, with a measured wind taken out; where side is missing, from the spin axis
    through the flight model in still air, which is said: a shape is how the ball was struck, not where it was blown.
    """
    measured = _by_numbers(balls)
    found = [
        shape if shape.start is not None else _called(call)
        for shape, call, struck in zip(measured, balls.shots.calls, balls.struck, strict=True) if struck
    ]
    known = [shape for shape in found if shape.start is not None]
    hand = "left" if balls.block.lesson.student.left_handed else "right"
    counted = Counter(words(shape=shape, hand=hand) for shape in known)
    return Shapes(
        counts=tuple(ShapeCount(words=said, count=n, out_of=len(known)) for said, n in counted.most_common()),
        balls=len(known), unknown=len(found) - len(known), notes=_notes(balls, known, measured),
    )


def _by_numbers(balls: BlockBalls) -> list[Shape]:
    start, carry, side = (balls.column(key) for key in ("launch_direction_deg", "carry_m", "side_m"))
    if _in_measured_wind(balls):
        calm = np.isfinite(balls.stated.side_m) & np.isfinite(balls.stated.carry_m)
        carry, side = np.where(calm, balls.stated.carry_m, np.nan), np.where(calm, balls.stated.side_m, np.nan)
    curve = np.asarray(curve_from_side_m(side_m=side, carry_m=carry, launch_direction_deg=start))
    by_axis = ~np.isfinite(curve)
    flown = fly(launch=Launch(**{key: balls.column(key) for key in LAUNCH}), air=balls.still_air)
    curve = np.where(by_axis, flown.curve_m, curve)
    carry = np.where(by_axis, flown.carry_m, carry)
    return [
        shape_of(launch_direction_deg=begin, curve_m=bend, carry_m=far, inferred=bool(inferred))
        for begin, bend, far, inferred in zip(start, curve, carry, by_axis & np.isfinite(curve), strict=True)
    ]


def _in_measured_wind(balls: BlockBalls) -> bool:
    return balls.wind is not None and balls.wind != (0.0, 0.0)


def _called(call: BallCall) -> Shape:
    if call.start is None:
        return Shape(start=None, curve=None)
    curve = None if call.curve is None else int(np.sign(call.curve))
    return Shape(start=call.start, curve=curve, strong=curve is not None and abs(call.curve) > 1)


def _notes(balls: BlockBalls, known: list[Shape], measured: list[Shape]) -> tuple[str, ...]:
    limits, said = STANDARD_LIMITS, []
    if any(shape.start is not None for shape in measured):
        said.append(
            f"Straight: a start within {limits.start_deg:g}°, a curve within {limits.curve_share:.0%} of the carry; "
            f"strong: a curve beyond {limits.strong_share:.0%}. Common practice, no source."
        )
    if any(shape.inferred for shape in known):
        said.append("Where side was not measured, the curve is estimated from the spin axis through the flight model.")
    if _in_measured_wind(balls) and any(shape.curve is not None for shape in known):
        said.append("The measured wind is taken out of the curves.")
    if balls.wind is None:
        said.append("Wind was felt and not measured: some of the curve may be the wind’s.")
    if any(call.start is not None for call in balls.shots.calls):
        said.append("Shapes of balls without numbers are as called by eye.")
    return tuple(said)
