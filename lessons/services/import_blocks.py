"""Which block a stretch of balls from a file belongs to."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from academy.models import Club
from lessons.imports.gaps import BlockProposal, club_key
from lessons.models import Block, Lesson

from .lessons import intent_for

CONDITIONS = ("aids", "purpose", "effort_pct", "feedback_shown", "is_mixed", "is_tee", "wanted_balls")


@dataclass(frozen=True, kw_only=True)
class Target:
    """A block that takes balls, whether it is new, and why."""

    block: Block
    is_new: bool
    reason: str
    balls: int = 0


def target_for(
    *, lesson: Lesson, stretch: BlockProposal, wanted: str, before: Sequence[Target], source: str = "file",
) -> Target:
    """Return the block for a stretch: the one on the desk if the club is the same, else a new one beside it, which
    whoever stores the balls has to insert. One query, two more for a new block.

    A new block takes over the conditions of the desk's block; the coach corrects them in one tap. A stretch
    after a long pause gets a block of its own even with the same club: something may have been changed.
    """
    every = [*Block.objects.filter(lesson=lesson), *(target.block for target in before if target.is_new)]
    present = [block for block in every if block.removed_at is None]
    desk = next((block for block in present if str(block.code) == wanted), present[-1] if present else None)
    if desk is not None and not any(target.block == desk for target in before) and _same_club(desk, stretch):
        return Target(block=desk, is_new=False, reason="same club as the block on the desk")
    return Target(block=_new_block(lesson, stretch, desk, source, every), is_new=True, reason=stretch.reason)


def _same_club(block: Block, stretch: BlockProposal) -> bool:
    return block.category == stretch.category and club_key(block.club_name, block.category) == club_key(
        stretch.club, stretch.category
    )


def _new_block(
    lesson: Lesson, stretch: BlockProposal, desk: Block | None, source: str, every: Sequence[Block]
) -> Block:
    values: dict[str, Any] = {name: getattr(desk, name) for name in CONDITIONS} if desk else {}
    bag = Club.objects.filter(student=lesson.student, category=stretch.category, to_date__isnull=True)
    club = next(
        (one for one in bag if club_key(one.name, one.category) == club_key(stretch.club, stretch.category)), None
    )
    top = max((block.position for block in every), default=0)
    return Block(
        lesson=lesson, position=top + 1, club=club, club_name=club.name if club else stretch.club[:40],
        category=stretch.category, reading=Block.Reading.NUMBERS, source=source,
        intent=intent_for(student=lesson.student, category=stretch.category), **values,
    )
