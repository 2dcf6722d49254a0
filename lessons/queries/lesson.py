"""Reading one lesson for its page."""

from django.db.models import Prefetch, prefetch_related_objects

from lessons.models import Block, Lesson


def blocks_of(lesson: Lesson) -> list[Block]:
    """Return the lesson's blocks in order, read once a request. One query the first time, none after."""
    if not hasattr(lesson, "present_blocks"):
        rows = Block.objects.filter(removed_at__isnull=True).select_related("club")
        prefetch_related_objects([lesson], Prefetch("blocks", queryset=rows, to_attr="present_blocks"))
    return lesson.present_blocks


def lesson_page(*, lesson: Lesson, wanted: str = "") -> dict:
    """Return what stands around the running order. No query beyond the lesson's blocks."""
    blocks = blocks_of(lesson)
    chosen = next((block for block in blocks if str(block.code) == wanted), None)
    return {"lesson": lesson, "student": lesson.student, "blocks": blocks,
            "block": chosen or (blocks[-1] if blocks else None)}
