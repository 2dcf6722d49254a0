"""One block judged by the rules, with the library and the overrides that count for this student."""

from dataclasses import replace

from lessons.care import reads_health, without_health
from lessons.evidence import evidence_for
from lessons.library import overrides_for, stored_library
from lessons.models import Block, Lesson
from lessons.queries.lesson import blocks_of
from metrics.rules.assessment import Assessment
from metrics.rules.engine import evaluate
from metrics.rules.types import BlockEvidence

_KEPT = "_kept_readings"


def assess(*, lesson: Lesson, block: Block) -> tuple[Assessment, BlockEvidence]:
    """Return what the rules say to a block, and the evidence they read. At most eleven queries.

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
        evidence_for(block=block, others=blocks), overrides=overrides_for(lesson.student, library=library))
    found = evaluate(evidence, library=library)
    if not reads_health(lesson):
        found = without_health(found, evidence=evidence, library=library)
    return found, evidence
