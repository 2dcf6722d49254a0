"""A student's visits as the statistics read them: balls of one number, each block with its conditions."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Any

from django.utils import timezone

from academy.models import Student
from lessons.models import Block, Lesson, Shot
from lessons.reference_carry import visit_carry
from lessons.summaries import references_for
from metrics.change.visits import Conditions, Visit
from metrics.flight.visit import VisitCarry
from metrics.levels import Level, level_of

JUDGED_PURPOSES = (Block.Purpose.FIRST_TEN, Block.Purpose.TEST)
"""At a return visit only these show what held: no aids, no advice before them."""
NEVER_FIRST = (Block.Purpose.ADAPT, Block.Purpose.TRANSFER)
"""Balls of getting used to a change are kept and not judged; mixed balls answer another question."""


@dataclass(frozen=True, kw_only=True)
class BlockVisit:
    """One block, its lesson, and its struck balls of one number. ``with_mishits`` holds all of them.

    For carry, ``reference`` is the block's mean at the reference condition (or the code why there is none),
    ``why`` the sentence of a refusal, and ``at_reference`` the same balls corrected, None where they cannot be.
    """

    block: Block
    lesson: Lesson
    visit: Visit
    with_mishits: Visit
    reference: VisitCarry | None = None
    why: str = ""
    at_reference: Visit | None = None

    @property
    def is_first_look(self) -> bool:
        """Whether these balls were hit without aids before anything was taught that day."""
        block = self.block
        if block.aids or block.is_mixed or block.purpose in NEVER_FIRST:
            return False
        return block.purpose in JUDGED_PURPOSES or block.position == 1


def level_for(student: Student) -> Level:
    """Return the level whose usual spread is assumed until the student's own is known."""
    return level_of(student.handicap_index, beginner=student.is_beginner)


def block_visits(
    *, student: Student, quantity: str, category: str, finished_only: bool = True
) -> list[BlockVisit]:
    """Return the blocks with one kind of club that have balls with this number, oldest first.

    Two queries; for carry more, once, where the conditions of a lesson were corrected since its balls were stored.
    """
    blocks = (
        Block.objects.filter(lesson__student=student, category=category, removed_at__isnull=True)
        .select_related("lesson__venue", "lesson__device", "club").order_by("lesson__starts_at", "position")
    )
    if finished_only:
        blocks = blocks.filter(lesson__status=Lesson.Status.FINISHED)
    if quantity != "carry_m":
        blocks = blocks.defer("summary")  # the larger part of a block, and only its reference carry is read
    found = {block.pk: block for block in blocks}
    balls = _balls(found, quantity)
    stored = references_for(list(found.values())) if quantity == "carry_m" else {}
    return [
        BlockVisit(
            block=block, lesson=block.lesson,
            visit=_visit(block, [(key, value) for key, value, mishit in balls[pk] if not mishit]),
            with_mishits=_visit(block, [(key, value) for key, value, _ in balls[pk]]),
            **_at_reference(block, stored.get(pk)),
        )
        for pk, block in found.items() if balls[pk]
    ]


def visit_without_numbers(block: Block) -> BlockVisit:
    """Return a block as a visit of its conditions alone, for what is counted and not measured. No query."""
    bare = _visit(block, [])
    return BlockVisit(block=block, lesson=block.lesson, visit=bare, with_mishits=bare)


def quantities_of(*, student: Student) -> list[tuple[str, str, int]]:
    """Return (category, number, balls) that this student has, most balls first. One query, read from summaries."""
    counts: Counter[tuple[str, str]] = Counter()
    rows = Block.objects.filter(lesson__student=student, removed_at__isnull=True)
    for category, found in rows.values_list("category", "summary__numbers"):
        for quantity, numbers in (found or {}).items():
            counts[category, quantity] += numbers.get("n", 0)
    return [(category, quantity, n) for (category, quantity), n in counts.most_common()]


def _balls(blocks: Iterable[int], quantity: str) -> dict[int, list[tuple[int, float, bool]]]:
    rows = (
        Shot.objects.present().filter(block_id__in=list(blocks), excluded_reason="", **{f"{quantity}__isnull": False})
        .order_by("block_id", "number", "pk").values_list("block_id", "pk", quantity, "is_mishit")
    )
    balls: dict[int, list[tuple[int, float, bool]]] = {block: [] for block in blocks}
    for block, key, value, mishit in rows:
        balls[block].append((key, value, mishit))
    return balls


def _visit(block: Block, balls: list[tuple[int, float]]) -> Visit:
    return Visit(
        day=timezone.localdate(block.lesson.starts_at).toordinal(), conditions=conditions_of(block),
        values=tuple(value for _, value in balls), ids=tuple(key for key, _ in balls),
    )


def _at_reference(block: Block, stored: dict[str, Any] | None) -> dict[str, Any]:
    """Return what a block visit says about the reference condition; a wind that was measured is taken out."""
    if stored is None:
        return {}
    found: dict[str, Any] = {"reference": visit_carry(stored), "why": stored["sentence"]}
    if not stored["refusal"]:
        corrected = _visit(block, stored["carries"])
        found["at_reference"] = replace(corrected, conditions=replace(corrected.conditions, windy=False))
    return found


def conditions_of(block: Block) -> Conditions:
    """Return under what a block was hit, in the words that are compared and shown."""
    lesson, club = block.lesson, block.club
    return Conditions(
        club=block.club_name, spec=f"from {club.from_date:%Y-%m-%d}" if club and club.from_date else "",
        intent=block.intent, aids=tuple(sorted(block.aids)), effort_pct=float(block.effort_pct),
        ball_type=lesson.ball_type, venue_type=_kind_of_place(lesson),
        device=lesson.device.name if lesson.device else "", feedback_shown=block.feedback_shown,
        windy=lesson.is_windy or bool(lesson.wind_along_mps or lesson.wind_cross_mps),
    )


def _kind_of_place(lesson: Lesson) -> str:
    if lesson.venue is None:
        return ""
    return "indoor" if lesson.venue.indoor else "outdoor"
