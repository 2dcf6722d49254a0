"""Without."""

from typing import Any

from lessons.models import Block, Lesson
from lessons.queries.lesson import blocks_of


def context(lesson: Lesson) -> dict[str, Any]:
    """Return the blocks of this stop. No query beyond the lesson's blocks."""
    return {"blocks": [block for block in blocks_of(lesson) if block.purpose == Block.Purpose.NO_AID]}


def summary(data: dict[str, Any]) -> tuple[str, str]:
    balls = sum(block.summary.get("balls", 0) for block in data["blocks"])
    return (f"{balls} balls", "begun") if balls else ("no ball yet", "")
