"""The two flight pictures of a block as plain views: what was measured as dots, what was computed as dashed curves."""

from dataclasses import dataclass, replace

import numpy as np

from lessons.pictures.flight_frame import Curve, Ellipse, Landing, Unit
from lessons.pictures.flight_side import SideView
from lessons.pictures.flight_top import TopView
from metrics.change.priors import setting
from metrics.flight.trajectory import fly, trace
from metrics.flight.types import Air, Launch
from metrics.provenance import COMPUTED, NORMALISED
from metrics.spread import landing_ellipse, playable_share
from metrics.units import System

from .balls import BlockBalls

ELLIPSE_WORD = "where 19 of the next 20 balls should land"


@dataclass(frozen=True, kw_only=True)
class Pictures:
    """The view from above and from the side (None where no flight could be computed) with what to say beside them."""

    top: TopView
    side: SideView | None
    notes: tuple[str, ...]
    apex_m: float
    landing_angle_deg: float
    carry_m: float


def pictures_of(balls: BlockBalls, *, system: System, key: str, ellipse: bool = True) -> Pictures:
    """Return both views of one block; ``ellipse`` False leaves the landing pattern out, however many the balls."""
    unit: Unit = "yd" if system == "yards" else "m"
    landings = landings_of(balls)
    found = _ellipse(balls) if ellipse else None
    curve, landing = _average_flight(balls)
    top = TopView(
        curves=(curve,) if curve else (), landings=landings, ellipse=found, playable_m=_playable(balls),
        left_handed=balls.block.lesson.student.left_handed, unit=unit, title="From above", key=f"{key}-top",
        dots_word=_dots_word(balls),
    )
    side = SideView(curves=(curve,), unit=unit, title="From the side", key=f"{key}-side") if curve else None
    return Pictures(
        top=top, side=side, notes=_notes(balls, landings, found, ellipse),
        apex_m=float(landing.apex_m) if landing else np.nan, carry_m=float(landing.carry_m) if landing else np.nan,
        landing_angle_deg=float(landing.landing_angle_deg) if landing else np.nan,
    )


def same_scale(first: Pictures, second: Pictures) -> tuple[Pictures, Pictures]:
    """Return both with views that are drawn to one scale."""
    def beside(own: Pictures, other: Pictures) -> Pictures:
        side = replace(own.side, beside=other.side) if own.side and other.side else own.side
        return replace(own, top=replace(own.top, beside=other.top), side=side)

    return beside(first, second), beside(second, first)


def landings_of(balls: BlockBalls) -> tuple[Landing, ...]:
    """Return where each ball came down, for those with carry and side. What the device worked out is marked so."""
    carry, side = balls.column("carry_m"), balls.column("side_m")
    with np.errstate(invalid="ignore"):
        downrange = np.sqrt(carry**2 - side**2)
    return tuple(
        Landing(downrange_m=float(downrange[i]), side_m=float(side[i]), mishit=bool(balls.shots.mishit[i]),
                modelled=balls.provenance[i] in (COMPUTED, NORMALISED))
        for i in np.flatnonzero(np.isfinite(downrange))
    )


def flight_curve(launch: Launch, air: Air) -> tuple[Curve | None, object]:
    """Return one computed flight as a curve to draw with its landing; (None, None) where there is no flight."""
    landing = fly(launch=launch, air=air)
    if not np.isfinite(landing.carry_m):
        return None, None
    path = trace(launch=launch, air=air)
    points = np.column_stack([path.downrange_m, path.height_m, path.side_m])
    return Curve(
        points=[tuple(map(float, point)) for point in points], word="the average ball, computed",
        landing_angle_deg=float(landing.landing_angle_deg),
    ), landing


def _average_flight(balls: BlockBalls):
    if balls.average_launch is None:
        return None, None
    return flight_curve(balls.average_launch, balls.air)


def _ellipse(balls: BlockBalls) -> Ellipse | None:
    """Return the landing ellipse: from 20 struck balls of one provenance, never from a mixture."""
    if balls.is_mixed or balls.wind is None:
        return None
    struck = balls.struck
    side, carry = balls.column("side_m")[struck], balls.column("carry_m")[struck]
    with np.errstate(invalid="ignore"):
        found = landing_ellipse(side_m=side, carry_m=np.sqrt(carry**2 - side**2))
    if found is None:
        return None
    return Ellipse(
        downrange_m=found.carry_m, side_m=found.side_m, half_long_m=found.half_long_m,
        half_wide_m=found.half_short_m, turn_deg=found.turn_deg, word=ELLIPSE_WORD,
    )


def _playable(balls: BlockBalls) -> float | None:
    carry = balls.mean("carry_m")
    try:
        share = playable_share(balls.block.category)
    except ValueError:
        return None
    return None if balls.is_mixed or not np.isfinite(carry) else carry * share


def _dots_word(balls: BlockBalls) -> str:
    return "measured" if "" not in balls.kinds else "as the device gave it"


def _notes(balls: BlockBalls, landings: tuple[Landing, ...], found: Ellipse | None, ellipse: bool) -> tuple[str, ...]:
    needed = int(setting("balls_for_ellipse"))
    struck = sum(not landing.mishit for landing in landings)
    said = []
    if not landings:
        said.append("No ball has both carry and side, so no landing can be drawn.")
    elif found:
        said.append(f"The outline is {ELLIPSE_WORD} (n {struck}).")
    elif balls.is_mixed:
        said.append("No landing pattern: some carries were measured, others worked out; they are not mixed.")
    elif balls.wind is None:
        said.append("No landing pattern: the wind was felt and not measured.")
    elif ellipse:
        said.append(f"Dots only: a landing pattern needs {needed} balls, {needed - struck} more.")
    if any(landing.mishit for landing in landings):
        said.append("Crosses are mishits; they are kept and do not count in the pattern.")
    if "" in balls.kinds:
        said.append("It is not noted whether these carries were measured or worked out by the device.")
    said.append(_curve_note(balls))
    return tuple(said)


def _curve_note(balls: BlockBalls) -> str:
    if balls.average_launch is None:
        return "No flight can be computed: it needs ball speed, launch angle and spin of at least one struck ball."
    missing = [word for key, word in (("launch_direction_deg", "start direction"), ("spin_axis_deg", "spin axis"))
               if not balls.known(key).size]
    air = "in that day’s air" if balls.air_is_known else "in the reference air, as that day’s is not noted"
    straight = f"; {' and '.join(missing)} not measured, taken as straight" if missing else ""
    return (f"The dashed curve is computed, not measured: the average launch of {balls.launches} struck "
            f"ball{'s' if balls.launches != 1 else ''}, flown {air}{straight}. Computed carry may be 6 to 11 % off.")
