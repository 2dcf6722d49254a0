"""What was measured in a battery: its blocks of balls and its short tests."""

from dataclasses import dataclass

from lessons.models import Battery, Block
from lessons.queries.skills.runs import Run, runs_in
from metrics.plans.battery import MEASURES, Measure

COUNTS = (Block.Purpose.TEST, Block.Purpose.FIRST_TEN)
"""Blocks that may stand for a measure: no aids, no advice before them."""


@dataclass(frozen=True, kw_only=True)
class Done:
    """One measure as far as it is; ``block`` or ``run`` holds its balls, neither where it was not begun."""

    measure: Measure
    block: Block | None = None
    run: Run | None = None

    @property
    def balls(self) -> int:
        if self.run is not None:
            return len(self.run.balls)
        return self.block.summary.get("judged", 0) if self.block is not None else 0

    @property
    def complete(self) -> bool:
        return self.balls >= self.measure.balls

    @property
    def begun(self) -> bool:
        return self.block is not None or self.run is not None


def done_in(battery: Battery) -> list[Done]:
    """Return every measure of a battery in its order. Three queries."""
    blocks, runs = _blocks(battery), runs_in(battery)
    return [
        Done(measure=one, block=None if one.design else _fullest(blocks, one),
             run=next((run for run in reversed(runs) if run.design.slug == one.design), None))
        for one in MEASURES
    ]


def _blocks(battery: Battery) -> list[Block]:
    visits = [pk for pk in (battery.lesson_id, battery.second_lesson_id) if pk]
    rows = Block.objects.filter(lesson__in=visits, removed_at__isnull=True, purpose__in=COUNTS, is_mixed=False)
    in_order = rows.select_related("lesson").order_by("lesson__starts_at", "position")
    return [block for block in in_order if not block.aids]


def _fullest(blocks: list[Block], measure: Measure) -> Block | None:
    """Return the block with most balls, the later of two alike: balls hit for it come before an open, empty one."""
    of_club = [block for block in blocks if block.category == measure.category]
    return max(of_club, key=lambda block: (block.summary.get("judged", 0), block.lesson.starts_at, block.position),
               default=None)
