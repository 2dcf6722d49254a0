"""The flight page of a block, alone or beside a second block of the same student, the earlier one first."""

from dataclasses import dataclass, replace
from typing import Any

from django.utils.safestring import SafeString

from lessons.frames import shots_of
from lessons.models import Block
from lessons.pictures import flight_side, flight_top
from lessons.pictures.svg import signed
from lessons.queries.progress.rows import NORMAL_95
from lessons.queries.visits import conditions_of
from lessons.reference_carry import REASONS
from lessons.summaries import references_for
from metrics.change.comparable import differences
from metrics.flight.visit import compare_blocks
from metrics.units import System, display

from .balls import BlockBalls
from .facts import BallRow, Fact, StatedCarry, ball_rows, facts_of, stated_carry
from .pictures import pictures_of, same_scale
from .shapes import Shapes, shapes_of
from .yards import YardsTable, yards_between


@dataclass(frozen=True, kw_only=True)
class Column:
    """One block as the page shows it."""

    block: Block
    balls: BlockBalls
    top: SafeString
    side: SafeString | None
    notes: tuple[str, ...]
    shapes: Shapes
    facts: list[Fact]
    headings: list[str]
    rows: list[BallRow]
    carry: StatedCarry | None


@dataclass(frozen=True, kw_only=True)
class Comparison:
    """The second block minus the first: the change of carry at the reference condition and where it came from.

    ``may_be_luck`` where its 95 % interval holds zero.
    """

    change: str
    half: str
    may_be_luck: bool
    refusal: str
    cautions: tuple[str, ...]
    table: YardsTable


def flight_page(*, block: Block, other: Block | None, system: System) -> dict[str, Any]:
    """Return everything on the page. Four queries, one more with a second block."""
    blocks = sorted(
        [block, other] if other else [block], key=lambda each: (each.lesson.starts_at, each.position)
    )
    shots, stored = shots_of(blocks), references_for(blocks)
    balls = [BlockBalls(each, shots[each.pk].judged()) for each in blocks]
    columns = _columns(balls, stored, system)
    return {
        "here": block, "student": block.lesson.student, "lesson": block.lesson, "other": other, "units": system,
        "columns": columns, "own": next(column for column in columns if column.block.pk == block.pk),
        "choices": _choices(block), "comparison": _comparison(columns, system) if other else None,
        "unit": "yd" if system == "yards" else "m",
    }


def _columns(balls: list[BlockBalls], stored: dict[int, dict | None], system: System) -> list[Column]:
    same_wind = len({each.wind for each in balls}) == 1
    views = [
        pictures_of(each, system=system, key=f"flight-{place}", ellipse=same_wind)
        for place, each in enumerate(balls)
    ]
    if len(views) == 2:
        views = list(same_scale(*views))
    found = []
    for each, view in zip(balls, views, strict=True):
        headings, rows = ball_rows(each, system=system)
        note = () if same_wind else ("No landing patterns: the wind was not the same for both blocks.",)
        found.append(Column(
            block=each.block, balls=each, top=flight_top.draw(view.top),
            side=flight_side.draw(view.side) if view.side else None, notes=(*note, *view.notes),
            shapes=shapes_of(each), facts=facts_of(each, view, system=system), headings=headings, rows=rows,
            carry=stated_carry(stored[each.block.pk], system=system),
        ))
    return found


def _comparison(columns: list[Column], system: System) -> Comparison:
    first, second = columns
    refusal, change, half, luck = "There is no carry in one of the blocks.", "", "", True
    if first.carry and second.carry:
        found = compare_blocks(first=first.carry.visit, second=second.carry.visit)
        refusal = _refusal(first, second, found.refusal)
        if not refusal:
            change = signed(_in_unit(found.change_m, system))
            half = f"{_in_unit(NORMAL_95 * found.standard_error_m, system):.1f}"
            luck = abs(found.change_m) <= NORMAL_95 * found.standard_error_m
    return Comparison(
        change=change, half=half, may_be_luck=luck, refusal=refusal, cautions=_cautions(first, second),
        table=yards_between(first.balls, second.balls, system=system),
    )


def _refusal(first: Column, second: Column, code: str) -> str:
    if code:
        return next((each.carry.sentence for each in (first, second) if each.carry.visit.refusal), REASONS[code])
    enough = first.carry.mean and second.carry.mean
    return "" if enough else "Not enough balls yet: each block needs five with a carry."


def _cautions(first: Column, second: Column) -> tuple[str, ...]:
    """Name what was not alike; a wind that was taken out of the carry is no difference any more."""
    sides = []
    for column in (first, second):
        conditions = conditions_of(column.block)
        taken_out = column.carry is not None and not column.carry.visit.refusal
        sides.append(replace(conditions, windy=conditions.windy and not taken_out))
    return tuple(each.sentence for each in differences(before=sides[0], after=sides[1], quantity="carry_m"))


def _choices(block: Block) -> list[Block]:
    """Return the student's other blocks with this kind of club that have balls, newest first. One query."""
    rows = Block.objects.filter(
        lesson__student=block.lesson.student, category=block.category, removed_at__isnull=True,
    ).exclude(pk=block.pk).exclude(summary={}).select_related("lesson").order_by("-lesson__starts_at", "-position")
    return [each for each in rows[:60] if each.summary.get("balls")]


def _in_unit(metres: float, system: System) -> float:
    return float(display(field_key="carry_m", value=metres, system=system)[0])
