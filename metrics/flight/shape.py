"""The shape of a flight: where it starts and where it curves, nine shapes and a qualifier.

Player-relative signs make the names the same for both hands: + is the slice side, so a start on the + side is a
push and a curve to the + side a fade, for a left-hander too. Only "left" and "right" change.
"""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from metrics.flight.trajectory import fly
from metrics.flight.types import Air, Ball, Launch, Values

Hand = Literal["right", "left"]


@dataclass(frozen=True, kw_only=True)
class Limits:
    """Where straight ends and strong begins, all inclusive. Common practice, no source; configurable."""

    start_deg: float = 1.5
    curve_share: float = 0.02
    strong_share: float = 0.07


@dataclass(frozen=True, kw_only=True)
class Shape:
    """One ball's shape: -1, 0 or 1 for start and curve (+ slice side), None where it is not known.

    ``inferred`` says the curve was taken from the spin axis through the flight model, not measured.
    """

    start: int | None
    curve: int | None
    strong: bool = False
    inferred: bool = False

    @property
    def slug(self) -> str:
        """"push-draw", "straight", "hook", "start only", …; "unknown" where not even the start is known."""
        if self.start is None:
            return "unknown"
        begin = ("pull", "", "push")[self.start + 1]
        if self.curve is None:
            return f"{begin or 'straight'} start only"
        bend = (("hook", "", "slice") if self.strong else ("draw", "", "fade"))[self.curve + 1]
        return "-".join(part for part in (begin, bend) if part) or "straight"


STANDARD_LIMITS = Limits()


def curve_from_side_m(*, side_m: Values, carry_m: Values, launch_direction_deg: Values) -> Values:
    """Return the offset of the landing point from the start line [m], + on the slice side.

    side cos(start) − √(carry² − side²) sin(start). Any shape; NaN stays NaN, and comes out where the side is
    larger than the carry. Source: geometry.
    """
    side, carry = np.asarray(side_m, dtype=float), np.asarray(carry_m, dtype=float)
    start = np.radians(launch_direction_deg)
    square = carry**2 - side**2
    downrange = np.sqrt(np.where(square >= 0, square, np.nan))
    curve: Values = side * np.cos(start) - downrange * np.sin(start)
    return curve


def shape_of(
    *,
    launch_direction_deg: float | None,
    curve_m: float | None = None,
    carry_m: float | None = None,
    limits: Limits = STANDARD_LIMITS,
    inferred: bool = False,
) -> Shape:
    """Return the shape of one ball from its start direction and its curve as a share of its carry.

    Missing (None or NaN) start: unknown; missing curve or carry, or a carry of zero: start only. A value
    exactly on a limit is still inside it. Common practice, no source.
    """
    if _missing(launch_direction_deg):
        return Shape(start=None, curve=None)
    assert launch_direction_deg is not None
    start = _class_of(launch_direction_deg, limits.start_deg)
    if _missing(curve_m) or _missing(carry_m) or not carry_m:
        return Shape(start=start, curve=None)
    assert curve_m is not None and carry_m is not None
    share = curve_m / carry_m
    return Shape(
        start=start, curve=_class_of(share, limits.curve_share),
        strong=abs(share) > limits.strong_share and abs(share) > limits.curve_share, inferred=inferred,
    )


def shape_from_launch(
    *, launch: Launch, air: Air, limits: Limits = STANDARD_LIMITS, ball: Ball | None = None
) -> Shape:
    """Return the shape of one ball whose curve is not known but whose axis is: by the flight model, inferred.

    Numbers, not arrays. Start only where the launch does not make a flight.
    """
    landing = fly(launch=launch, air=air, ball=ball or Ball())
    return shape_of(
        launch_direction_deg=float(launch.launch_direction_deg), curve_m=float(landing.curve_m),
        carry_m=float(landing.carry_m), limits=limits, inferred=True,
    )


def words(*, shape: Shape, hand: Hand) -> str:
    """Say a shape with left and right as this player sees them, the name first.

    >>> words(shape=Shape(start=1, curve=-1), hand="right"), words(shape=Shape(start=1, curve=-1), hand="left")
    ('push-draw: starts right, curves left', 'push-draw: starts left, curves right')
    """
    if shape.start is None:
        return "start direction not known"
    starts = "starts straight" if shape.start == 0 else f"starts {_side(shape.start, hand)}"
    if shape.curve is None:
        return f"{starts}, curve not known"
    much = "strongly " if shape.strong else ""
    curves = "flies straight on" if shape.curve == 0 else f"curves {much}{_side(shape.curve, hand)}"
    source = " (curve estimated from the spin axis)" if shape.inferred else ""
    return f"{shape.slug}: {starts}, {curves}{source}"


def _side(sign: int, hand: Hand) -> str:
    return "right" if (sign > 0) == (hand == "right") else "left"


def _class_of(value: float, limit: float) -> int:
    return 0 if abs(value) <= limit else (1 if value > 0 else -1)


def _missing(value: float | None) -> bool:
    return value is None or not np.isfinite(value)
