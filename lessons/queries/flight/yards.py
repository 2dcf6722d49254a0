"""Where the yards came from between two blocks, ready to be read in a table."""

from dataclasses import dataclass

from lessons.pictures.svg import signed
from lessons.reference_carry import air_of
from metrics.flight.reasons import REFUSALS, WARNINGS
from metrics.flight.yards import FEWEST_BALLS, Block, Part, Yards, where_the_yards_came_from
from metrics.units import System, display

from .balls import BlockBalls

_FELT = "The wind was felt and not measured on one of the days; whatever it did is in the part not explained."


@dataclass(frozen=True, kw_only=True)
class YardsRow:
    """One line of the table in the reader's unit; ``is_sum`` for a total, which has no range of its own here."""

    label: str
    change: str
    low: str = ""
    high: str = ""
    is_sum: bool = False


@dataclass(frozen=True, kw_only=True)
class YardsTable:
    """The parts of a change of carry, or in ``refusal`` why it cannot be split. ``warnings`` are sentences."""

    rows: tuple[YardsRow, ...] = ()
    n: tuple[int, int] = (0, 0)
    refusal: str = ""
    warnings: tuple[str, ...] = ()


def yards_between(first: BlockBalls, second: BlockBalls, *, system: System) -> YardsTable:
    """Split the change of mean carry from the first block to the second, over struck balls."""
    code = _refused(first, second)
    if code:
        return YardsTable(refusal=REFUSALS[code])
    found = where_the_yards_came_from(
        first=_block(first), second=_block(second), category=first.block.category
    )
    felt = first.wind is None or second.wind is None
    warnings = tuple(
        _FELT if code == "air_unknown" and felt else WARNINGS[code] for code in found.warnings
    )
    refusal = REFUSALS[found.refusal] if found.refusal else ""
    if found.refusal == "too_few_balls":
        refusal += (f" It takes {FEWEST_BALLS} balls in each block with club speed, ball speed, launch angle, spin "
                    f"and carry; there are {found.n[0]} and {found.n[1]}.")
    return YardsTable(
        rows=() if refusal else _rows(found, system), n=found.n, refusal=refusal, warnings=warnings,
    )


def _rows(found: Yards, system: System) -> tuple[YardsRow, ...]:
    def said(metres: float) -> str:
        return signed(float(display(field_key="carry_m", value=metres, system=system)[0]))

    def row(part: Part) -> YardsRow:
        return YardsRow(
            label=part.label, change=said(part.change_m), low=said(part.low_m), high=said(part.high_m)
        )

    assert found.rest is not None
    return (
        *(row(part) for part in found.parts),
        YardsRow(label="Together, as modelled", change=said(found.modelled_m), is_sum=True),
        row(found.rest),
        YardsRow(label="Change of carry", change=said(found.measured_m), is_sum=True),
    )


def _refused(first: BlockBalls, second: BlockBalls) -> str:
    if first.block.category != second.block.category:
        return "different_club"
    return "mixed_provenance" if first.is_mixed or second.is_mixed else ""


def _block(balls: BlockBalls) -> Block:
    struck = balls.struck
    day = air_of(balls.block.lesson).air
    return Block(
        **{name: balls.column(name)[struck] for name in (
            "club_speed_mps", "ball_speed_mps", "launch_angle_deg", "spin_rpm", "carry_m", "launch_direction_deg",
            "spin_axis_deg")},
        air=None if balls.wind is None else day, provenance=next(iter(balls.kinds), ""),
    )
