"""What both flight pictures share: curves, landings, and the unit they are read in."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from .axes import YARD_M

Unit = Literal["yd", "m"]


@dataclass(frozen=True, kw_only=True)
class Curve:
    """A flight as (downrange_m, height_m, side_m) points, side + on the slice side.

    ``modelled`` is true for a computed flight: drawn dashed, and called computed in words.
    """

    points: Sequence[tuple[float, float, float]]
    modelled: bool = True
    word: str = ""
    landing_angle_deg: float | None = None


@dataclass(frozen=True, kw_only=True)
class Landing:
    """Where a ball came down: (downrange, side) in metres; measured unless said otherwise."""

    downrange_m: float
    side_m: float
    modelled: bool = False
    mishit: bool = False


@dataclass(frozen=True, kw_only=True)
class Ellipse:
    """A landing ellipse, ready computed: centre and half-axes in metres.

    turn_deg turns the long axis from downrange toward the slice side. ``word`` says how much it holds.
    """

    downrange_m: float
    side_m: float
    half_long_m: float
    half_wide_m: float
    turn_deg: float = 0.0
    word: str = ""


def in_unit(metres: float, unit: Unit) -> float:
    return metres / YARD_M if unit == "yd" else metres
