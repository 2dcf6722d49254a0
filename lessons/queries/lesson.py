"""Reading one lesson for its page."""

import uuid
from typing import Any

from academy.models import Academy
from lessons.care import OFF, OFF_TITLE, long_game_off, reads_health
from lessons.models import Block, Lesson
from lessons.models.block import AIDS

from .balls import ALL_AT_MOST, AT_HAND, ball_rows, fields_to_type, last_ball
from .keypad import contact_keys, shape_keys
from .readings import reading

OFF_WHY = (
    "The student reported pain of 4 or more, new pain, or an emergency sign. Putting and aim work are fine; full "
    "swings wait until it is 0 to 2 on two days running or a clinician clears it."
)
LONG_GAME = {"driver", "fairway", "hybrid_long_iron", "mid_iron", "short_iron", "wedge_full"}


def blocks_of(lesson: Lesson) -> list[Block]:
    """Return the lesson's blocks in order, read once a request. One query the first time, none after."""
    if not hasattr(lesson, "present_blocks"):
        lesson.present_blocks = list(
            Block.objects.filter(lesson=lesson, removed_at__isnull=True).select_related("club")
        )
    for block in lesson.present_blocks:
        block.lesson = lesson  # spares a query for each block, and keeps the student beside it
    return lesson.present_blocks


def house_of(lesson: Lesson) -> Academy | None:
    """Return the academy as the request has read it; asked for where there was none. At most one query."""
    if "read_house" not in lesson.__dict__:
        lesson.read_house = Academy.objects.first()
    return lesson.read_house


def lesson_page(
    *, lesson: Lesson, wanted: str = "", chosen_fields: list[str] | None = None, all_balls: bool = False
) -> dict[str, Any]:
    """Return what stands around the running order. Five queries, however many blocks and balls."""
    blocks = blocks_of(lesson)
    block = next((b for b in blocks if str(b.code) == wanted), blocks[-1] if blocks else None)
    side = desk(block=block, chosen_fields=chosen_fields, all_balls=all_balls) if block else None
    top = topline(lesson=lesson, block=block) if len(blocks) > 1 else _top_of_one(block, side)
    return {"lesson": lesson, "student": lesson.student, "blocks": blocks, **top, "desk": side}


def topline(*, lesson: Lesson, block: Block | None) -> dict[str, Any]:
    """Return what the line at the top says. One query."""
    return {"current": block, "last": last_ball(lesson)}


def _top_of_one(block: Block | None, side: dict[str, Any] | None) -> dict[str, Any]:
    """Return the same for a lesson with one block: its newest ball is on the list. No query."""
    return {"current": block, "last": max(side["rows"], key=lambda row: row.shot.pk, default=None) if side else None}


def desk(*, block: Block, chosen_fields: list[str] | None = None, all_balls: bool = False) -> dict[str, Any]:
    """Return the balls side of the page for one block. Three queries."""
    left = block.lesson.student.left_handed
    return {
        "reading": reading(block, left_handed=left),
        **listed(block=block, all_balls=all_balls),
        "fields": fields_to_type(block=block, chosen=chosen_fields) if block.reading == "numbers" else [],
        "shapes": shape_keys(left_handed=left), "contacts": contact_keys(), "key": uuid.uuid4(),
        "next_key": uuid.uuid4(), "other_aids": other_aids(block), "stopped": stopped(block),
    }


def listed(*, block: Block, all_balls: bool) -> dict[str, Any]:
    """Return the balls that the list shows, and how many earlier ones there are. One query."""
    left, most = block.lesson.student.left_handed, ALL_AT_MOST if all_balls else AT_HAND
    rows = ball_rows(block=block, left_handed=left, most=most)
    return {"rows": rows, "older": block.summary.get("balls", 0) - len(rows) if len(rows) == most else 0}


def other_aids(block: Block) -> dict[str, Any]:
    """Return the one-tap next block: aids off where they are on, else the lesson's last aids on again."""
    if block.aids:
        return {"change": "aids_off", "words": "aids off", "aids": []}
    used = next((b.aids for b in reversed(blocks_of(block.lesson)) if b.aids), ["sticks"])
    words = ", ".join(AIDS.get(aid, aid).lower() for aid in used)
    return {"change": "aids_on", "words": f"with {words}", "aids": used}


def stopped(block: Block) -> dict[str, str]:
    """Return the words that keep the long game off, where this block is one; empty where nothing speaks against."""
    if block.category not in LONG_GAME or not long_game_off(block.lesson):
        return {}
    return {"title": OFF_TITLE, "text": OFF_WHY if reads_health(block.lesson) else OFF}
