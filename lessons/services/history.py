"""Taking things back in a lesson, and the list of what was done."""

from django.db import transaction

from academy import journal
from academy.models import Change, Coach
from lessons.models import Block, Lesson, Shot
from lessons.summaries import refresh


def undo_last(*, by: Coach, lesson: Lesson) -> Change | None:
    """Take the newest change of a lesson back and return it; None where there is nothing to take back."""
    change = journal.last_change(lesson_code=lesson.code)
    if change is not None:
        undo_change(by=by, change=change)
    return change


@transaction.atomic
def undo_change(*, by: Coach, change: Change) -> None:
    """Take one change back and recompute the blocks whose balls it touched. Raises CannotUndo with a reason."""
    journal.undo(change=change, by=by)
    keys = set()
    for operation in change.operations:
        if operation["model"] == "lessons.shot":
            keys.update(operation.get("keys") or [operation.get("key")])
    for block in Block.objects.filter(pk__in=Shot.objects.filter(pk__in=keys).values("block")):
        refresh(block)


def changes_of(*, lesson: Lesson, most: int = 100) -> list[Change]:
    """Return the lesson's history, newest first, with who did it. One query."""
    return list(Change.objects.filter(lesson_code=lesson.code).select_related("created_by", "undone_by")[:most])
