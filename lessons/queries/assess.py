"""One block judged by the rules, with the library, overrides and setup changes that count for this student."""

from dataclasses import replace

from lessons.care import reads_health, without_health
from lessons.evidence import evidence_for
from lessons.frames import shots_of
from lessons.library import overrides_for, stored_library
from lessons.models import Block, Lesson, SetupObservation
from lessons.queries.lesson import blocks_of
from metrics.rules.assessment import Assessment
from metrics.rules.engine import evaluate
from metrics.rules.types import BlockEvidence, SetupChange

_KEPT = "_kept_readings"


def assess(*, lesson: Lesson, block: Block) -> tuple[Assessment, BlockEvidence]:
    """Return what the rules say to a block, and the evidence they read. At most ten queries.

    The rules get the library without overrides and the overrides beside it, so that they can show both values.
    Stops of one page that read the same block share the reading: it is kept on the lesson as it was loaded, until
    ``forget``.
    """
    kept = lesson.__dict__.setdefault(_KEPT, {})
    if block.pk not in kept:
        kept[block.pk] = _assess(lesson, block)
    return kept[block.pk]


def forget(lesson: Lesson) -> None:
    """Read anew after something was written that the rules look at."""
    lesson.__dict__.pop(_KEPT, None)


def _assess(lesson: Lesson, block: Block) -> tuple[Assessment, BlockEvidence]:
    blocks = blocks_of(lesson)
    library = stored_library()
    evidence = replace(
        evidence_for(block=block, others=blocks), overrides=overrides_for(lesson.student, library=library),
        change=moved_before(lesson=lesson, block=block, blocks=blocks),
    )
    found = evaluate(evidence, library=library)
    if not reads_health(lesson):
        found = without_health(found, evidence=evidence, library=library)
    return found, evidence


def moved_before(*, lesson: Lesson, block: Block, blocks: list[Block]) -> SetupChange | None:
    """Return the ball position's change between the block before, of the same club and wish, and this one.

    Two queries at most. A move is seen where a number “after” was noted after that block had begun and before
    this one was opened.
    """
    earlier = [
        other for other in blocks
        if other.position < block.position and other.summary.get("balls") and other.club_id == block.club_id
        and (other.category, other.intent) == (block.category, block.intent)
    ]
    if not earlier:
        return None
    rows = SetupObservation.objects.filter(
        lesson=lesson, category=block.category, checkpoint="ball_position_cm", removed_at__isnull=True
    ).order_by("pk")
    seen = {row.phase: row for row in rows}
    before, after = seen.get("before"), seen.get("after")
    if before is None or after is None or not earlier[-1].created_at < after.created_at < block.created_at:
        return None
    shots = shots_of([earlier[-1]])[earlier[-1].pk].judged()
    return SetupChange(checkpoint="ball_position_cm", before=before.value, after=after.value,
                       shots_before=shots.numbers)
