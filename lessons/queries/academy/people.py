"""Figures about who comes, who stays and who may be leaving."""

from datetime import timedelta

from django.utils import timezone

from academy.models import Student
from lessons.queries.roster import Row

from .count import Count, of_students
from .world import World

ACTIVE_DAYS = 60
SIGNS = ("overdue", "no practice ticked for three weeks", "one lesson or none left")


def retention(world: World) -> Count:
    """The end counts without newcomers, the start is the day before the window."""
    before = world.since - timedelta(days=1)
    start = [row.student.pk for row in world.rows if world.active_on(row.student.pk, before, ACTIVE_DAYS)]
    end = [row.student.pk for row in world.rows if world.active_on(row.student.pk, world.today, ACTIVE_DAYS)]
    stayed = [student for student in end if min(world.attended_of(student)) < world.since]
    return Count(top=len(stayed), bottom=len(start), students=[one for one in start if one not in set(stayed)],
                 words="The list names who was active then and is not now.")


def signs(world: World, row: Row) -> tuple[bool, bool, bool]:
    """Return the three signs of leaving: overdue, practice silent, package nearly used up."""
    tick = world.last_tick.get(row.student.pk)
    silent = tick is None or (world.today - timezone.localdate(tick)).days >= world.house.silent_days
    left = world.left.get(row.student.pk)
    return bool(row.overdue_because), silent, left is None or left.lessons <= 1


def lapse(world: World) -> Count:
    return of_students(
        (row.student.pk for row in world.rows if all(signs(world, row)) and _is_status_active(row)),
        _status_active(world),
    )


def conversion(world: World) -> Count:
    new = [row.student for row in world.rows if world.in_window(timezone.localdate(row.student.created_at))]
    return of_students((one.pk for one in new if world.attended_of(one.pk)), (one.pk for one in new))


def _is_status_active(row: Row) -> bool:
    return row.student.status == Student.Status.ACTIVE


def _status_active(world: World) -> list[int]:
    return [row.student.pk for row in world.rows if _is_status_active(row)]
