"""Taking things back in a lesson, and the list of what was done."""

from collections import Counter

from django.db import transaction
from django.db.models import Q, QuerySet

from academy import journal
from academy.models import Change, Coach
from lessons.models import Block, Lesson, Shot
from lessons.summaries import refresh

from .calendar import publish
from .standing import refresh_standing


def undo_last(*, by: Coach, lesson: Lesson) -> Change | None:
    """Take the newest change of a lesson back and return it; None where there is nothing to take back."""
    change = journal.last_change(lesson_code=lesson.code)
    if change is not None:
        undo_change(by=by, change=change)
    return change


@transaction.atomic
def undo_change(*, by: Coach, change: Change) -> None:
    """Take one change back and recompute the blocks whose balls it touched. Raises CannotUndo with a reason."""
    _keep_what_hangs_on(change)
    journal.undo(change=change, by=by)
    publish(_lessons_of(change))
    keys = set()
    for operation in change.operations:
        if operation["model"] == "lessons.shot":
            keys.update(operation.get("keys") or [operation.get("key")])
    touched: set[int] = set()
    for part in journal.in_parts(keys):
        touched.update(Shot.objects.filter(pk__in=part).values_list("block", flat=True).distinct())
    for block in Block.objects.filter(pk__in=touched).select_related("lesson__device"):
        _number_anew(block, keys)
        refresh(block)
    lesson = Lesson.objects.select_related("student").filter(code=change.lesson_code).first()
    if lesson is not None:
        refresh_standing(student=lesson.student)


def _number_anew(block: Block, keys: set[int]) -> None:
    """Give balls that came back, and whose number another ball has now, the next free ones. One query; more then."""
    numbers = dict(Shot.objects.present().filter(block=block).order_by("number", "pk").values_list("pk", "number"))
    held = Counter(numbers.values())
    top = max(numbers.values(), default=0)
    for pk in sorted(keys & numbers.keys()):
        if held[numbers[pk]] > 1:
            held[numbers[pk]] -= 1
            top += 1
            Shot.objects.filter(pk=pk).update(number=top)


def _lessons_of(change: Change) -> QuerySet:
    """Return the lessons whose place in the diary a change touched."""
    touched: dict[str, set[int]] = {"lessons.lesson": set(), "lessons.booking": set()}
    for operation in change.operations:
        if operation["model"] in touched:
            touched[operation["model"]].update(operation.get("keys") or [operation.get("key")])
    return Lesson.objects.filter(Q(pk__in=touched["lessons.lesson"]) | Q(booking__in=touched["lessons.booking"]))


def _keep_what_hangs_on(change: Change) -> None:
    """Refuse to take a block or a lesson away from under what was stored in it later."""
    made: dict[str, list[int]] = {}
    for operation in change.operations:
        if operation["do"] == "create":
            made.setdefault(operation["model"], []).extend(operation["keys"])
    present = Shot.objects.present().filter(block__in=made.get("lessons.block", [])).values_list("pk", flat=True)
    balls = len(set(present) - set(made.get("lessons.shot", [])))
    if balls:
        raise journal.CannotUndo(f"This block holds {balls} ball{'s' if balls > 1 else ''}; take those back first.")
    if Block.objects.filter(lesson__in=made.get("lessons.lesson", [])).exists():
        raise journal.CannotUndo("This lesson was begun; nothing before its start can be taken back.")


def changes_of(*, lesson: Lesson, most: int = 100) -> list[Change]:
    """Return the lesson's history, newest first, with who did it. One query."""
    return list(Change.objects.filter(lesson_code=lesson.code).select_related("created_by", "undone_by")[:most])
