"""Figures about who comes, who stays and who may be leaving."""

from dataclasses import replace
from datetime import timedelta
from statistics import fmean

from django.utils import timezone

from academy.models import Student
from lessons.queries.roster import Row
from metrics.handicap.form import ASSUMED_SD, LAST, luck_between_means

from .count import Count, of_students
from .world import World

ACTIVE_DAYS = 60
SIGNS = ("overdue", "no practice ticked for three weeks", "one lesson or none left")


def retention(world: World) -> Count:
    """The end counts without newcomers, the start is the day before the window."""
    before = world.since - timedelta(days=1)
    known = [row.student.pk for row in world.everybody]
    start = {student for student in known if world.active_on(student, before, ACTIVE_DAYS)}
    end = [student for student in known if world.active_on(student, world.today, ACTIVE_DAYS)]
    stayed = [student for student in end if min(world.attended_of(student)) < world.since]
    again = len(set(stayed) - start)
    words = "The list names who was active then and is not now."
    if again:
        words += f" {again} of those counted came back after a break; that is how it can pass 100 %."
    return Count(top=len(stayed), bottom=len(start), words=words,
                 students=[student for student in known if student in start - set(stayed)])


def signs(world: World, row: Row) -> tuple[bool, bool, bool]:
    """Return the three signs of leaving: overdue, practice silent, package nearly used up."""
    tick = world.last_tick.get(row.student.pk)
    silent = tick is None or (world.today - timezone.localdate(tick)).days >= world.house.silent_days
    left = world.left.get(row.student.pk)
    return bool(row.overdue_because), silent, left is None or left.lessons <= 1


def lapse(world: World) -> Count:
    """The sum of the signs stands beside it, so that nothing is hidden in one number."""
    shown = {row.student.pk: sum(signs(world, row)) for row in world.rows if _is_status_active(row)}
    parts = "; ".join(f"{sum(own == number for own in shown.values())} show {number}" for number in (3, 2, 1, 0))
    count = of_students((pk for pk, own in shown.items() if own == len(SIGNS)), shown)
    return replace(count, words=f"Of the three signs {parts}.")


def outcome(world: World) -> Count:
    """Lower is better; what luck alone does to one player's mean of ten is said with it."""
    edge = world.since - timedelta(days=1)
    changes = {}
    for pk, rounds in world.differentials.items():
        then = [value for day, value in rounds if day <= edge]
        now = [value for day, value in rounds if day <= world.today]
        if len(then) >= LAST and len(now) > len(then):
            changes[pk] = fmean(now[-LAST:]) - fmean(then[-LAST:])
    noise = luck_between_means(sd=ASSUMED_SD, rounds=LAST)
    mean = f"On average {fmean(changes.values()):+.1f} strokes. " if changes else ""
    count = of_students((pk for pk, change in changes.items() if change < 0), changes)
    return replace(count, words=f"{mean}Of one player, {noise:.1f} strokes up or down can be luck.")


def conversion(world: World) -> Count:
    new = [row.student for row in world.everybody if world.in_window(timezone.localdate(row.student.created_at))]
    came = (one.pk for one in new if any(day <= world.today for day in world.attended_of(one.pk)))
    return of_students(came, (one.pk for one in new))


def _is_status_active(row: Row) -> bool:
    return row.student.status == Student.Status.ACTIVE
