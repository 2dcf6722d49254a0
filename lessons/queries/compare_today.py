"""The blocks of one visit beside each other: with and without aids, and before and after the change.

Only blocks of one club, one wish and one effort are compared. The words are the statistics' own: of one day they
say “better today” at most.
"""

from dataclasses import dataclass

from lessons.frames import BlockShots, shots_of
from lessons.models import Block, Lesson
from lessons.queries.held import InWork, question_of
from lessons.queries.lesson import blocks_of
from lessons.queries.visits import conditions_of
from metrics.change.aids import AidDependency, aid_dependency
from metrics.change.verdict import Verdict, judge_today
from metrics.change.visits import Visit
from metrics.fields import FIELDS

FOLLOWED = ("club_path_deg", "attack_angle_deg", "launch_direction_deg", "face_to_path_deg", "strike_heel_toe_mm")
"""The numbers that are compared within a day: what a setup change moves."""


@dataclass(frozen=True, kw_only=True)
class Today:
    """What the balls of today say about one number; each part None where its blocks are missing."""

    quantity: str
    label: str
    aids: AidDependency | None
    verdict: Verdict | None
    with_aid: Block | None
    without: Block | None
    first: Block | None

    @property
    def is_empty(self) -> bool:
        return self.aids is None and self.verdict is None


def compare_today(*, lesson: Lesson, wanted: tuple[str, ...] = (), system: str = "yards") -> Today | None:
    """Compare the newest block without aids with the newest one with aids, and with the first one. One query.

    ``wanted`` are the numbers that the change should move, best first. None where nothing was measured.
    """
    blocks = [block for block in blocks_of(lesson) if block.summary.get("numbers")]
    plain = next((block for block in reversed(blocks) if not block.aids), None)
    if plain is None:
        return None
    like = [block for block in blocks if alike(block, plain)]
    aided = next((block for block in reversed(like) if block.aids), None)
    first = next((block for block in like if not block.aids and block.pk != plain.pk), None)
    used = [block for block in (plain, aided, first) if block is not None]
    order = [*(key for key in wanted if key in FOLLOWED), *FOLLOWED]
    quantity = next((key for key in order if all(key in block.summary["numbers"] for block in used)), None)
    if quantity is None or len(used) == 1:
        return None
    shots = shots_of(used)
    visits = {block.pk: _visit(block, shots[block.pk].judged(), quantity) for block in used}
    question = question_of(
        student=lesson.student, visits=[], system=system,
        work=InWork(quantity=quantity, category=plain.category, intent=plain.intent, since=None),
    )
    return Today(
        quantity=quantity, label=FIELDS[quantity].label, with_aid=aided, without=plain, first=first,
        aids=aid_dependency(question=question, with_aids=visits[aided.pk], without=visits[plain.pk],
                            aid_first=aided.position < plain.position) if aided else None,
        verdict=judge_today(question=question, before=visits[first.pk], after=visits[plain.pk]) if first else None,
    )


def alike(block: Block, other: Block) -> bool:
    """Say whether two blocks of a visit are of one club, one wish and one effort."""
    same = ("category", "club_id", "club_name", "intent", "effort_pct", "is_mixed")
    return all(getattr(block, name) == getattr(other, name) for name in same)


def _visit(block: Block, shots: BlockShots, quantity: str) -> Visit:
    struck = shots.where(~shots.mishit)
    return Visit(
        day=block.lesson.starts_at.date().toordinal(), conditions=conditions_of(block),
        values=tuple(float(value) for value in struck.numbers.get(quantity, ())),
    )
