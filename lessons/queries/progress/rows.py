"""The table of the progress page: every block of every visit, in the reader's units."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from academy.models import HealthFlag, Student
from lessons.pictures.svg import plain, signed
from lessons.queries.carry import refusal_words
from lessons.queries.visits import BlockVisit
from metrics.change.settings import setting
from metrics.distributions import student_t_quantile
from metrics.fields import FIELDS
from metrics.flight.visit import VisitCarry, why
from metrics.intervals import mean_estimate, sd_interval
from metrics.spread import Rate, rate
from metrics.units import System, display, display_digits

NORMAL_95 = 1.959964


@dataclass(frozen=True, kw_only=True)
class CarryNote:
    """A block's mean carry at the reference condition with half its 95 % interval, and the sentence why.

    ``mean`` is None where the carry is not comparable, or where there are too few balls for a mean.
    """

    mean: float | None
    half: float | None
    n: int
    sentence: str
    refused: bool


@dataclass(frozen=True, kw_only=True)
class VisitRow:
    """One block of one visit as the table shows it, in the reader's units."""

    look: BlockVisit
    mean: float | None
    lo: float | None
    hi: float | None
    sd: float | None
    sd_lo: float | None
    sd_hi: float | None
    mishits: Rate
    change: str
    written: dict[str, str]
    """The same numbers as text: mean, interval, sd, with_mishits; empty where there are too few balls."""
    carry: CarryNote | None = None


def rows_of(*, student: Student, visits: list[BlockVisit], quantity: str, system: System) -> list[VisitRow]:
    """Return one row a block. One query, for what was reported about pain."""
    injuries = list(HealthFlag.objects.filter(student=student).values_list("reported_at", "area"))
    rows, earlier = [], None
    for visit in visits:
        estimate = mean_estimate(values=np.array(visit.visit.balls))
        shown = estimate.n >= setting("balls_to_show")
        low, high = sd_interval(sd=estimate.sd, n=estimate.n) if shown else (None, None)
        if visit.reference is not None and visit.reference.refusal == "mixed_provenance":
            shown = False
        values = (estimate.mean, estimate.lo, estimate.hi, estimate.sd, low, high) if shown else (None,) * 6
        mean, lo, hi, sd, sd_lo, sd_hi = (in_unit(value, quantity, system) for value in values)
        everything = visit.with_mishits.n
        with_them = in_unit(visit.with_mishits.mean, quantity, system) if everything > visit.visit.n else None
        rows.append(VisitRow(
            look=visit, mean=mean, lo=lo, hi=hi, sd=sd, sd_lo=sd_lo, sd_hi=sd_hi,
            mishits=rate(successes=everything - visit.visit.n, trials=everything),
            change=_what_changed(earlier, visit, injuries), carry=carry_note(visit=visit, system=system),
            written=_written((mean, lo, hi, sd, with_them), quantity, system),
        ))
        earlier = visit
    return rows


def _written(numbers: tuple[float | None, ...], quantity: str, system: System) -> dict[str, str]:
    mean, lo, hi, sd, with_them = numbers
    if mean is None:
        return {}
    digits = display_digits(field_key=quantity, system=system)

    def write(value: float | None) -> str:
        return "" if value is None else (signed if FIELDS[quantity].plus_means else plain)(value, digits)

    return {"mean": write(mean), "interval": f"{write(lo)} to {write(hi)}" if lo is not None else "",
            "sd": plain(sd, digits) if sd is not None else "", "with_mishits": write(with_them)}


def _what_changed(earlier: BlockVisit | None, visit: BlockVisit, injuries: list[tuple[Any, str]]) -> str:
    """Return what else was new since the block before: club, place, device, a pain report."""
    if earlier is None:
        return ""
    first, second = earlier.visit.conditions, visit.visit.conditions
    new = ["club"] if (first.club, first.spec) != (second.club, second.spec) else []
    if earlier.lesson.pk == visit.lesson.pk:
        return f"new {new[0]}" if new else ""
    if earlier.lesson.venue_id != visit.lesson.venue_id:
        new.append("place")
    if first.device != second.device:
        new.append("device")
    areas = dict.fromkeys(area.replace("_", " ") for at, area in injuries
                          if earlier.lesson.starts_at < at <= visit.lesson.starts_at)
    words = [f"new {', '.join(new)}"] if new else []
    return "; ".join(words + ([f"pain reported: {', '.join(areas)}"] if areas else []))


def carry_note(*, visit: BlockVisit, system: System) -> CarryNote | None:
    """Return what the page says of a carry at the reference condition; None for numbers that are no carry."""
    stated = visit.reference
    if stated is None:
        return None
    refused = bool(stated.refusal)
    enough = not refused and stated.n >= setting("balls_to_show")
    return CarryNote(
        mean=in_unit(stated.carry_m, "carry_m", system) if enough else None,
        half=in_unit(half_width_m(stated), "carry_m", system) if enough else None,
        n=stated.n, sentence=refusal_words(visit) if refused else why(visit=stated, system=system), refused=refused,
    )


def half_width_m(stated: VisitCarry) -> float:
    """Return half the 95 % interval of a mean at the reference condition [m]: Student's t for the balls' part."""
    balls = student_t_quantile(p=0.975, df=stated.n - 1) * stated.shot_error_m
    return float(np.hypot(balls, NORMAL_95 * stated.common_error_m))


def in_unit(value: float | None, quantity: str, system: System) -> float | None:
    """Return a number in the reader's unit; None for one that is missing."""
    if value is None or value != value:
        return None
    return float(display(field_key=quantity, value=float(value), system=system)[0])
