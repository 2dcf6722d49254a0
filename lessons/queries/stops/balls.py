"""What the three stops that consist of balls have in common."""

import uuid
from collections.abc import Iterable
from typing import Any

from lessons.models import Block, Lesson
from lessons.queries.lesson import blocks_of
from lessons.queries.reading_dots import dots_of
from lessons.queries.readings import reading


def stop_context(lesson: Lesson, *, purposes: Iterable[str]) -> dict[str, Any]:
    """Return the blocks of a stop with their readings. One query for the dots of all of them."""
    found = stop_gist(lesson, purposes=purposes)["readings"]
    pictures = dots_of([item["reading"].block for item in found], left_handed=lesson.student.left_handed)
    return {
        "readings": [{**item, "dots": pictures.get(item["reading"].block.pk, [])} for item in found],
        "key": uuid.uuid4(), "latest": blocks_of(lesson)[-1] if blocks_of(lesson) else None,
    }


def stop_gist(lesson: Lesson, *, purposes: Iterable[str]) -> dict[str, Any]:
    """Return the readings of a stop without their pictures. No query beyond the lesson's blocks."""
    left = lesson.student.left_handed
    blocks = [block for block in blocks_of(lesson) if stop_of(block) in purposes]
    return {"readings": [{"reading": reading(block, left_handed=left)} for block in blocks]}


def stop_of(block: Block) -> str:
    """Return the slug of the stop a block belongs to."""
    if block.purpose in {Block.Purpose.FIRST_TEN, Block.Purpose.EXPLORE} and not block.aids:
        return "first_ten"
    return "with_aids" if block.aids or block.purpose == Block.Purpose.WITH_AID else "without"


def stop_summary(data: dict[str, Any]) -> tuple[str, str]:
    """Say how many balls there are, or how many are missing before they can be judged."""
    readings = [item["reading"] for item in data["readings"]]
    balls = sum(found.balls for found in readings)
    if not balls:
        return "no ball yet", ""
    if any(not found.more for found in readings):
        return f"{balls} ball{'' if balls == 1 else 's'}", "done"
    more = min(found.more for found in readings)
    return f"{balls} ball{'' if balls == 1 else 's'}, {more} more before this can be judged", "begun"
