"""Change: the one thing of the visit, the blocks that try it, and what today's balls say."""

import uuid
from typing import Any

from lessons.library import current_library
from lessons.models import Block, Finding, Lesson, Prescription
from lessons.models.block import AIDS
from lessons.queries.assess import assess
from lessons.queries.change_words import Proposal, expected_words, proposals
from lessons.queries.compare_today import compare_today
from lessons.queries.contact_today import contact_today
from lessons.queries.lesson import blocks_of
from lessons.queries.setup import noted_for, recheck, work_block
from metrics.checkpoints import CHECKPOINTS
from metrics.rules.records import Drill


def context(lesson: Lesson) -> dict[str, Any]:
    """Return the change that was chosen, or what the first check proposes. About fifteen queries."""
    chosen = lesson.prescriptions.filter(removed_at__isnull=True).select_related("finding").last()
    offered, drills = offers(lesson) if chosen is None else ([], [])
    wanted = tuple((chosen.expected if chosen else offered[0].expected if offered else {}) or ())
    return {
        "expected": expected_words(chosen.expected, hand=lesson.student.hand) if chosen else [],
        "lesson": lesson, "prescription": chosen, "proposals": offered, "start": start_of(chosen, offered),
        "drills": drills, "checkpoints": [(key, point.label) for key, point in CHECKPOINTS.items()],
        "recheck": _recheck(lesson, chosen), "today": compare_today(lesson=lesson, wanted=wanted),
        "contact": contact_today(lesson=lesson),
        **next_blocks(lesson),
    }


def gist(lesson: Lesson) -> dict[str, Any]:
    """Return the change that was chosen. One query."""
    return {"prescription": lesson.prescriptions.filter(removed_at__isnull=True).last()}


def offers(lesson: Lesson) -> tuple[list[Proposal], list[Drill]]:
    """Return the proposals and drills of the block that the confirmed finding was read from, else of the one in work.

    A finding that was overruled proposes nothing.
    """
    said = list(lesson.findings.filter(removed_at__isnull=True))
    overruled = {finding.pattern for finding in said if finding.decision == Finding.Decision.OVERRULED}
    confirmed = [finding for finding in said if finding.decision == Finding.Decision.CONFIRMED]
    block = _block_of(lesson, confirmed[-1].block_id) if confirmed else work_block(lesson)
    if block is None:
        return [], []
    assessment, evidence = assess(lesson=lesson, block=block)
    found = proposals(assessment, hand=evidence.hand, prefer=confirmed[-1].pattern if confirmed else "")
    first = next((finding for finding in assessment.findings if finding.pattern not in overruled), None)
    library = current_library()
    drills = [library.drills[slug] for slug in first.drills if slug in library.drills] if first else []
    return [offer for offer in found if offer.pattern not in overruled], drills


def _block_of(lesson: Lesson, key: int | None) -> Block | None:
    return next((block for block in blocks_of(lesson) if block.pk == key), None) or work_block(lesson)


def _recheck(lesson: Lesson, chosen: Prescription | None) -> str:
    """Return the check that goes with a change of the ball's place, until it was made. One query at most."""
    block = work_block(lesson)
    if chosen is None or chosen.checkpoint != "ball_position_cm" or block is None:
        return ""
    return recheck(category=block.category, noted=noted_for(lesson=lesson, category=block.category))


def start_of(chosen: Prescription | None, offered: list[Proposal]) -> dict[str, Any]:
    """Return what stands in the boxes at first."""
    if chosen is not None:
        names = ("change", "cue", "stop_sign", "checkpoint", "value_from", "value_to")
        pattern = chosen.finding.pattern if chosen.finding else ""
        return {**{name: getattr(chosen, name) for name in names}, "pattern": pattern}
    if not offered:
        return {}
    names = ("change", "stop_sign", "checkpoint", "value_from", "value_to", "pattern")
    return {name: getattr(offered[0], name) for name in names}


def next_blocks(lesson: Lesson) -> dict[str, Any]:
    """Return from which block the next one with aids and the next one without are opened. No further query."""
    blocks = blocks_of(lesson)
    aided = next((block for block in reversed(blocks) if block.aids), None)
    plain = next((block for block in reversed(blocks) if not block.aids), None)
    return {
        "aid_from": _from(plain, "aids_on") or _from(aided, "same"), "aid_key": uuid.uuid4(),
        "plain_from": _from(aided, "aids_off") or _from(plain, "same"), "plain_key": uuid.uuid4(),
        "aid_words": ", ".join(AIDS.get(aid, aid).lower() for aid in (aided.aids if aided else ["sticks"])),
    }


def _from(block: Block | None, change: str) -> dict[str, Any] | None:
    return {"block": block, "change": change} if block is not None else None


def summary(data: dict[str, Any]) -> tuple[str, str]:
    chosen = data["prescription"]
    if chosen is None:
        return "not chosen yet", ""
    return (f"{chosen.change}: “{chosen.cue}”", "done") if chosen.cue else (f"{chosen.change}, no cue yet", "begun")
