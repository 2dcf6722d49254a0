"""The plain tables beside the flight pictures: means with n, what the model says, and every ball."""

from dataclasses import dataclass

import numpy as np

from lessons.queries.progress.rows import half_width_m
from lessons.reference_carry import visit_carry
from metrics.fields import FIELDS, MIRRORED
from metrics.flight.visit import VisitCarry, why
from metrics.units import System, display, display_digits, display_unit

from .balls import BlockBalls
from .pictures import Pictures

SHOWN = (
    "carry_m", "side_m", "apex_m", "landing_angle_deg", "launch_direction_deg", "launch_angle_deg",
    "ball_speed_mps", "spin_rpm", "club_speed_mps",
)
PER_BALL = ("carry_m", "side_m", "launch_direction_deg", "apex_m", "landing_angle_deg")
FEWEST_FOR_A_MEAN = 5
MINUS = "\N{MINUS SIGN}"


@dataclass(frozen=True, kw_only=True)
class Fact:
    """One number of a block: its mean as the device gave it, with n, and what the model says of the average ball."""

    label: str
    mean: str
    n: int
    model: str = ""


@dataclass(frozen=True, kw_only=True)
class BallRow:
    """One ball as the table shows it."""

    number: int
    cells: tuple[str, ...]
    mishit: bool


@dataclass(frozen=True, kw_only=True)
class StatedCarry:
    """A block's carry at the reference condition; ``mean`` is empty where it is not comparable."""

    measured: str
    mean: str
    half: str
    n: int
    sentence: str
    visit: VisitCarry


def facts_of(balls: BlockBalls, pictures: Pictures, *, system: System) -> list[Fact]:
    """Return the means of the struck balls; fewer than five balls have none, and mixed carries are not averaged."""
    model = {
        "carry_m": pictures.carry_m, "apex_m": pictures.apex_m, "landing_angle_deg": pictures.landing_angle_deg,
    }
    left = balls.block.lesson.student.left_handed
    found = []
    for key in SHOWN:
        known, computed = balls.known(key), model.get(key, np.nan)
        if not known.size and not np.isfinite(computed):
            continue
        if key == "carry_m" and balls.is_mixed:
            mean = "not averaged: measured and worked-out carries"
        elif 0 < known.size < FEWEST_FOR_A_MEAN:
            mean = "not enough balls yet"
        else:
            mean = shown(key, balls.mean(key), system=system, left_handed=left)
        found.append(Fact(
            label=FIELDS[key].label, mean=mean, n=known.size,
            model=shown(key, computed, system=system, left_handed=left) if np.isfinite(computed) else "",
        ))
    return found


def ball_rows(balls: BlockBalls, *, system: System) -> tuple[list[str], list[BallRow]]:
    """Return the headings and one row a ball, for those who do not see the picture."""
    keys = [key for key in PER_BALL if np.isfinite(balls.column(key)).any()]
    left = balls.block.lesson.student.left_handed
    rows = [
        BallRow(number=place + 1, mishit=bool(mishit), cells=tuple(
            shown(key, balls.column(key)[place], system=system, left_handed=left) for key in keys
        )) for place, mishit in enumerate(balls.shots.mishit)
    ]
    return [FIELDS[key].label for key in keys], rows


def stated_carry(stored: dict | None, *, system: System) -> StatedCarry | None:
    """Return the stored carry at the reference condition in words; None where the block has no carry."""
    if stored is None:
        return None
    visit = visit_carry(stored)
    enough = not visit.refusal and visit.n >= FEWEST_FOR_A_MEAN

    def metres(value: float) -> str:
        return f"{display(field_key='carry_m', value=value, system=system)[0]:.1f}"

    sentence = stored["sentence"] or why(visit=visit, system=system)
    if not visit.refusal and not enough:
        sentence = f"Not enough balls yet for a mean: {visit.n} of {FEWEST_FOR_A_MEAN}. {sentence}"
    return StatedCarry(
        measured=metres(visit.measured_m) if enough else "", mean=metres(visit.carry_m) if enough else "",
        half=metres(half_width_m(visit)) if enough else "", n=visit.n, sentence=sentence, visit=visit,
    )


def shown(key: str, value: float, *, system: System, left_handed: bool) -> str:
    """Write a number with its unit; what has a side is written with left or right as the player sees it."""
    if not np.isfinite(value):
        return "–"
    number = float(display(field_key=key, value=float(value), system=system)[0])
    unit, digits = display_unit(field_key=key, system=system), display_digits(field_key=key, system=system)
    joined = unit if unit == "°" else f" {unit}"
    text = f"{abs(number):.{digits}f}"
    if key in MIRRORED:
        side = "right" if (number > 0) != left_handed else "left"
        return f"{text}{joined}" + (f" {side}" if float(text) else "")
    return f"{MINUS if number < 0 and float(text) else ''}{text}{joined}"
