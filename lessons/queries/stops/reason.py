"""Reason: what the numbers point at, what to look at, and what the coach says to it."""

from typing import Any

from lessons.care import OFF_TITLE, reads_health
from lessons.library import current_library
from lessons.models import Block, Finding, Lesson
from lessons.queries.assess import assess
from lessons.queries.called import tallies
from lessons.queries.finding_cards import card
from lessons.queries.lesson import blocks_of
from lessons.queries.setup import board_of, work_block


def context(lesson: Lesson, block: Block | None = None) -> dict[str, Any]:
    """Return the findings of a block, the one in work by default. About fourteen queries, independent of balls."""
    block = block or work_block(lesson)
    kept = decided(lesson)
    if block is None:
        return {"lesson": lesson, "block": None, "kept": kept}
    assessment, evidence = assess(lesson=lesson, block=block)
    board = board_of(lesson=lesson, block=block, library=current_library(lesson.student))
    here = {finding.pattern: finding for finding in kept if finding.block_id == block.pk}
    return {
        "lesson": lesson, "block": block, "kept": kept, "assessment": assessment,
        "gate_title": "Health comes first: no pattern is read" if reads_health(lesson) else OFF_TITLE,
        "gate_line": _gate_line(lesson),
        "called": tallies(evidence.calls, hand=evidence.hand),
        "blocks": [other for other in blocks_of(lesson) if other.summary.get("balls")],
        "cards": [card(found, evidence=evidence, board=board, decided=here.get(found.pattern))
                  for found in assessment.findings],
        "why_not": list(dict.fromkeys(words for found in assessment.findings for words in found.why_not)),
        "others": [found for found in assessment.considered if not found.shown],
    }


def gist(lesson: Lesson) -> dict[str, Any]:
    """Return the coach's word, or what the rules say where there is none. At most eleven queries."""
    kept, block = decided(lesson), work_block(lesson)
    if kept or block is None:
        return {"kept": kept}
    return {"kept": kept, "assessment": assess(lesson=lesson, block=block)[0], "gate_line": _gate_line(lesson)}


def _gate_line(lesson: Lesson) -> str:
    return "health comes first" if reads_health(lesson) else OFF_TITLE.lower()


def decided(lesson: Lesson) -> list[Finding]:
    """Return the findings the coach has decided on. One query."""
    rows = lesson.findings.filter(removed_at__isnull=True).exclude(decision=Finding.Decision.OPEN)
    return list(rows.select_related("block"))


def summary(data: dict[str, Any]) -> tuple[str, str]:
    if data["kept"]:
        last = data["kept"][-1]
        return f"{last.title}: {last.get_decision_display().lower()}", "done"
    assessment = data.get("assessment")
    if assessment is None or not assessment.balls:
        return "no ball to read yet", ""
    if assessment.gate:
        return data["gate_line"], "begun"
    if assessment.findings:
        first = assessment.findings[0]
        more = " and one more" if len(assessment.findings) > 1 else ""
        return f"{first.title} ({first.state}){more}", "begun"
    if assessment.in_window:
        return "in the window", "done"
    return assessment.needs[0] if assessment.needs else "nothing stands out", "begun"
