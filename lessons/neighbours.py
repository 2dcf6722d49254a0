"""The blocks that one block is read beside: with and without aids, before a moved ball, and the visit before."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from metrics.rules.types import AidPair, SetupChange, Shots

from .frames import BlockShots
from .models import Block, SetupObservation

MOVED = "ball_position_cm"
"""The one checkpoint whose move turns the shoulders with it."""


@dataclass(frozen=True, kw_only=True)
class Neighbours:
    """Other blocks with the same club and the same wish. None where there is none.

    ``aided`` and ``plain`` belong together, from this visit or, where ``comes_back``, from the last one; then
    ``baseline`` is what that visit began with and the block itself shows what was left. ``before`` is the block
    before the ball was moved from ``moved[0]`` to ``moved[1]`` cm.
    """

    block: Block
    aided: Block | None = None
    plain: Block | None = None
    baseline: Block | None = None
    comes_back: bool = False
    before: Block | None = None
    moved: tuple[float, float] = (0.0, 0.0)

    @property
    def blocks(self) -> list[Block]:
        """Every block whose balls are needed, each once."""
        all_of_them = (self.block, self.aided, self.plain, self.baseline, self.before)
        return list({block.pk: block for block in all_of_them if block is not None}.values())

    def pair(self, shots: Mapping[int, BlockShots]) -> AidPair | None:
        """Return the balls with and without aids as the rules compare them."""
        if self.aided is None or (self.plain is None and not self.comes_back):
            return None
        return AidPair(
            with_aid=_numbers(self.aided, shots), no_aid=_numbers(self.plain, shots),
            baseline=_numbers(self.baseline, shots),
            next_first_ten=_numbers(self.block, shots) if self.comes_back else {},
        )

    def change(self, shots: Mapping[int, BlockShots]) -> SetupChange | None:
        """Return the ball's move and the balls before it."""
        if self.before is None:
            return None
        return SetupChange(checkpoint=MOVED, before=self.moved[0], after=self.moved[1],
                           shots_before=_numbers(self.before, shots))


def neighbours_of(*, block: Block, others: Iterable[Block], record: Iterable[Block]) -> Neighbours:
    """Return the neighbours of a block among the lesson's other blocks and the ``record`` of earlier visits.

    One query at most. A ball counts as moved where its place “after” was noted once the block before had begun
    and before this one was opened.
    """
    same = [other for other in others if other.pk != block.pk and other.summary.get("balls") and _alike(other, block)]
    before, moved = _before_a_move(block, same)
    partner = max((other for other in same if bool(other.aids) != bool(block.aids)
                   and other.effort_pct == block.effort_pct), key=lambda other: other.position, default=None)
    found = Neighbours(block=block, before=before, moved=moved)
    if partner is not None:
        aided, plain = (block, partner) if block.aids else (partner, block)
        return Neighbours(block=block, aided=aided, plain=plain, before=before, moved=moved)
    if block.purpose != Block.Purpose.FIRST_TEN:
        return found
    return _last_visit(found, [other for other in record if _alike(other, block)])


def _alike(other: Block, block: Block) -> bool:
    return (other.category, other.club_id, other.intent) == (block.category, block.club_id, block.intent)


def _last_visit(found: Neighbours, record: list[Block]) -> Neighbours:
    """Return the blocks of the last visit with aids down, what it began with and what came after them."""
    blocks = [other for other in record if other.lesson_id == record[-1].lesson_id]
    aided = next((other for other in reversed(blocks) if other.aids), None)
    if aided is None:
        return found
    plain = [other for other in blocks if not other.aids]
    after = [other for other in plain if other.position > aided.position]
    first = [other for other in plain if other.position < aided.position]
    return Neighbours(block=found.block, aided=aided, plain=after[-1] if after else None,
                      baseline=first[0] if first else None, comes_back=True)


def _before_a_move(block: Block, same: list[Block]) -> tuple[Block | None, tuple[float, float]]:
    nothing = (None, (0.0, 0.0))
    earlier = max((other for other in same if other.position < block.position), key=lambda other: other.position,
                  default=None)
    if earlier is None:
        return nothing
    rows = SetupObservation.objects.filter(
        lesson_id=block.lesson_id, category=block.category, checkpoint=MOVED, removed_at__isnull=True
    ).order_by("pk")
    seen = {row.phase: row for row in rows}
    if len(seen) < 2 or seen["before"].value == seen["after"].value:
        return nothing
    if not earlier.created_at < seen["after"].created_at < block.created_at:
        return nothing
    return earlier, (seen["before"].value, seen["after"].value)


def _numbers(block: Block | None, shots: Mapping[int, BlockShots]) -> Shots:
    return {} if block is None else shots[block.pk].judged().numbers
