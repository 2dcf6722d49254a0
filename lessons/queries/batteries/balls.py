"""The full swings of a report: every number that is judged, compared as “Did it hold?” compares two visits."""

from collections.abc import Iterable
from dataclasses import replace

import numpy as np

from academy.models import Student
from academy.templatetags.holdfast import plain_number
from lessons.models import Block
from lessons.queries.carry import comparable, judged
from lessons.queries.held import InWork, question_of
from lessons.queries.visits import BlockVisit, block_visits
from metrics.change.settings import setting
from metrics.change.verdict import Verdict
from metrics.fields import FIELDS
from metrics.intervals import mean_estimate
from metrics.spread import SpreadChange, spread_change
from metrics.units import System, display, display_digits, display_unit

from .rows import WENT, Row

SHOWN = ("club_path_deg", "face_angle_deg", "attack_angle_deg", "club_speed_mps", "smash_factor", "carry_m")
"""The numbers of a report, in this order, where they were measured."""
SPREAD = "launch_direction_deg"
"""How tightly the balls start: the measure of direction."""


def block_rows(*, now: Block, before: Block | None, student: Student, system: System) -> list[Row]:
    """Return the numbers of a block beside those of an earlier one. Two queries a number."""
    have = now.summary.get("numbers", {})
    rows = [_mean_row(_looks(student, key, now, before), key, student, now, system) for key in SHOWN if key in have]
    if SPREAD in have:
        rows.append(_spread_row(_looks(student, SPREAD, now, before), now, system))
    return rows


def _looks(student: Student, quantity: str, now: Block, before: Block | None) -> list[BlockVisit]:
    """Return the one or two blocks as visits, oldest first."""
    wanted = {now.pk, before.pk if before else now.pk}
    visits = block_visits(student=student, quantity=quantity, category=now.category, finished_only=False)
    return [visit for visit in visits if visit.block.pk in wanted]


def _mean_row(looks: list[BlockVisit], quantity: str, student: Student, now: Block, system: System) -> Row:
    row = Row(label=FIELDS[quantity].label, now=_mean(_of(looks, [now.pk]), quantity, system),
              before=_mean([look for look in looks if look.block.pk != now.pk], quantity, system))
    verdict = _verdict(looks, quantity, student, now, system)
    if verdict is None:
        return row
    numbers = verdict.numbers
    change = "not comparable"
    if numbers is not None:
        change = _with_interval((numbers.change, numbers.lo, numbers.hi), quantity, system, signed=True)
    return replace(row, change=change, word=verdict.word, went=WENT.get(verdict.code, "open"))


def _verdict(
    looks: list[BlockVisit], quantity: str, student: Student, now: Block, system: System
) -> Verdict | None:
    """Return what the later block says against the earlier one, or why it says nothing (the weather of a carry).

    None where there is one block only, or no better side.
    """
    told = comparable(visits=looks, quantity=quantity)
    work = InWork(quantity=quantity, category=now.category, intent=now.intent, since=None)
    question = question_of(student=student, work=work, visits=told.visits, system=system) if told.visits else None
    later = _of(told.visits, [now.pk])
    earlier = [visit for visit in told.visits if visit.block.pk != now.pk]
    if later and earlier and earlier[0].visit.day >= later[0].visit.day:
        return None
    return judged(quantity=quantity, question=question, before=earlier, after=later, told=told)


def _of(looks: Iterable[BlockVisit], keys: list[int]) -> list[BlockVisit]:
    return [look for look in looks if look.block.pk in keys]


def _mean(looks: list[BlockVisit], quantity: str, system: System) -> str:
    if not looks:
        return ""
    found = mean_estimate(values=np.array(looks[0].visit.balls))
    if found.n < setting("balls_to_show"):
        return f"{found.n} balls, not enough yet"
    signed = bool(FIELDS[quantity].plus_means)
    return f"{_with_interval((found.mean, found.lo, found.hi), quantity, system, signed=signed)}, n {found.n}"


def _spread_row(looks: list[BlockVisit], now: Block, system: System) -> Row:
    after = [np.array(look.visit.balls) for look in looks if look.block.pk == now.pk]
    before = [np.array(look.visit.balls) for look in looks if look.block.pk != now.pk]
    row = Row(label="Spread of the start direction (SD)", now=_sd(after, system), before=_sd(before, system))
    if not before or not after:
        return row
    found = spread_change(before=before, after=after)
    change = "–" if found.ratio != found.ratio else f"{found.ratio:.2f} times (95 % {found.lo:.2f} to {found.hi:.2f})"
    return replace(row, change=change, word=_spread_word(found), went=_SPREAD_WENT.get(found.word, "open"))


_SPREAD_WENT = {"tighter": "better", "wider": "worse"}


def _spread_word(found: SpreadChange) -> str:
    return {"tighter": "Tighter", "wider": "Wider", "cannot_tell": "Can’t tell yet"}.get(
        found.word, "Needs 20 balls a side")


def _sd(values: list[np.ndarray], system: System) -> str:
    if not values:
        return ""
    found = mean_estimate(values=values[0])
    if found.n < setting("balls_to_show"):
        return f"{found.n} balls, not enough yet"
    shown, unit = display(field_key=SPREAD, value=found.sd, system=system)
    return f"{plain_number(shown, display_digits(field_key=SPREAD, system=system))}{unit}, n {found.n}"


def _with_interval(
    numbers: tuple[float, float, float], quantity: str, system: System, *, signed: bool
) -> str:
    """Return a number with its unit and its interval without, for example "+3.7° (95 % +2.0 to +5.5)"."""
    digits = display_digits(field_key=quantity, system=system)
    value, lo, hi = (
        plain_number(float(display(field_key=quantity, value=one, system=system)[0]), digits, signed=signed)
        for one in numbers
    )
    unit = display_unit(field_key=quantity, system=system)
    return f"{value}{unit if unit == '°' else f' {unit}'.rstrip()} (95 % {lo} to {hi})"
