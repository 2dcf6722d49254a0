"""The blocks of one hour, planned before a ball is hit: the first look, with an aid, without, and sometimes mixed."""

import random
from dataclasses import dataclass, replace
from typing import Any

from lessons.models import Block

from .cast import COVERAGE, Chapter, Part
from .faults import CLUBS, Swing

Purpose = Block.Purpose


@dataclass(frozen=True, kw_only=True)
class Planned:
    """A block before it is hit. ``fresh`` is the first with a club that was new that day."""

    club: str
    swing: Swing
    purpose: str
    count: int
    intent: str = "straight"
    aids: tuple[str, ...] = ()
    shown: bool = False
    fresh: bool = False


def plan_hour(
    *, part: Part, rng: random.Random, chapter: Chapter, turn: int, last: tuple[Chapter, int] | None,
) -> list[Planned]:
    """Return the blocks of a visit; ``last`` is the chapter and turn of the visit before, None at the first."""
    fault, answer, share = chapter.fault, chapter.answer, chapter.answer.at(turn)
    is_driver = fault.club == "driver"
    ten = rng.choice([10, 10, 10, 12] if is_driver else [12, 12, 12, 14])
    looks = rng.random() < COVERAGE[part.coach % len(COVERAGE)] or part.scene is not None
    plan = _first_looks(chapter, turn, last, ten, looks=looks)
    plan.append(_planned(chapter, max(share, answer.with_aid), Purpose.WITH_AID, 10, shown=True,
                         aids=(rng.choice(fault.aids),)))
    plan.append(_planned(chapter, max(share, answer.no_aid), Purpose.NO_AID, 10 if is_driver else 12, shown=True))
    if rng.random() < 0.3 and part.scene is None:
        other = rng.choice([club for club in CLUBS if club != fault.club])
        plan.append(Planned(club=other, swing=part.player.neutral(other), purpose=Purpose.TRANSFER, count=6))
    if part.special == "new_club" and chapter is part.chapters[-1]:
        return _with_new_club(plan, visits_left=chapter.visits - 1 - turn)
    return plan


def _first_looks(
    chapter: Chapter, turn: int, last: tuple[Chapter, int] | None, ten: int, *, looks: bool,
) -> list[Planned]:
    """What comes before any help: at a new chapter the old one's first ten, then the new club."""
    share = chapter.answer.at(turn)
    if last is None:
        return [_planned(chapter, share, Purpose.EXPLORE, ten)]
    if turn:
        purpose = Purpose.FIRST_TEN if looks else Purpose.NO_AID
        return [_planned(chapter, share, purpose, ten, shown=not looks)]
    old, old_turn = last
    kept = [_planned(old, old.answer.at(old_turn + 1), Purpose.FIRST_TEN, ten)] if looks else []
    return [*kept, _planned(chapter, share, Purpose.TEST, ten)]


def _with_new_club(plan: list[Planned], *, visits_left: int) -> list[Planned]:
    """A new club comes in the middle of the last visit but one: its last block, and every block from then on."""
    first_fresh = {0: 0, 1: len(plan) - 1}.get(visits_left, len(plan))
    return [replace(one, fresh=place >= first_fresh) for place, one in enumerate(plan)]


def _planned(chapter: Chapter, share: float, purpose: str, count: int, **values: Any) -> Planned:
    """Return a block of a chapter's club, at a share of the way."""
    fault = chapter.fault
    return Planned(club=fault.club, intent=fault.intent, swing=fault.now.toward(fault.goal, share), purpose=purpose,
                   count=count, **values)
