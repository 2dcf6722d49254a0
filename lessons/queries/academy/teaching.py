"""Figures about lessons: hours given, who did not come, what was given afterwards, the first ten."""

from collections import defaultdict
from datetime import date, timedelta

from django.utils import timezone

from lessons.models import Lesson
from lessons.queries.followup_facts import Facts

from .count import Count, Item
from .world import Visit, World


def hours(world: World) -> Count:
    """The list stands by the coaches' names; it ranks nobody."""
    given, open_ = given_minutes(world), open_minutes(world)
    names = {row.student.coach_id: str(row.student.coach) for row in world.everybody}
    items = [
        Item(name=name, words=f"{given.get(pk, 0) / 60:.1f} hours given, "
             + (f"{open_[pk] / 60:.0f} open" if pk in open_ else "no working hours noted"))
        for pk, name in sorted(names.items(), key=lambda pair: pair[1])
    ]
    return Count(top=round(sum(given.values()) / 60, 1), bottom=round(sum(open_.values()) / 60, 1), items=items,
                 words="Hours of teaching out of hours open for it.")


def given_minutes(world: World) -> dict[int, int]:
    """Return coach -> minutes of finished lessons in the window; a class counts once, however many came."""
    found: dict[int, int] = defaultdict(int)
    classes = set()
    for visit in world.due:
        hour = (visit.coach, visit.starts_at) if visit.kind == Lesson.Kind.GROUP else None
        if visit.attended and (hour is None or hour not in classes):
            found[visit.coach] += visit.minutes
            classes.add(hour)
    return found


def open_minutes(world: World) -> dict[int, int]:
    """Return coach -> minutes in which the coach could be booked in the window."""
    days: dict[int, int] = defaultdict(int)
    day: date = world.since
    while day <= world.today:
        days[day.weekday()] += 1
        day += timedelta(days=1)
    return {
        coach: sum(row.minutes * days[row.weekday] for row in rows) for coach, rows in world.hours.items() if rows
    }


def no_show(world: World) -> Count:
    missed = [visit for visit in world.due if visit.status == Lesson.Status.NO_SHOW]
    came = [visit for visit in world.due if visit.attended]
    return _of_lessons(missed, [*missed, *came])


def late_cancel(world: World) -> Count:
    every = [visit for visit in world.due if visit.status != Lesson.Status.RUNNING]
    return _of_lessons([visit for visit in every if visit.late], every)


def group_fill(world: World) -> Count:
    held = [one for one in world.classes if world.in_window(timezone.localdate(one.starts_at))]
    taken = {one.pk: sum(booking.lesson.status != Lesson.Status.CANCELLED for booking in one.bookings.all())
             for one in held}
    items = [Item(name=f"{one.name}, {timezone.localtime(one.starts_at):%-d %B %Y}",
                  words=f"{taken[one.pk]} of {one.capacity} places, with {one.coach}") for one in held]
    return Count(top=sum(taken.values()), bottom=sum(one.capacity for one in held), items=items,
                 words="Places of classes that were held.")


def sheets(world: World) -> list[Facts]:
    """Return what became of the finished single lessons of the window."""
    return [world.facts[visit.pk] for visit in world.due if visit.pk in world.facts]


def given(world: World) -> Count:
    late = [one.lesson.student_id for one in sheets(world) if not one.in_time]
    return Count(top=len(sheets(world)) - len(late), bottom=len(sheets(world)), students=list(dict.fromkeys(late)),
                 words=f"{_median_hours(sheets(world))} The list names whose sheet was late or is missing.")


def opened(world: World) -> Count:
    told = [one for one in sheets(world) if one.given_at is not None]
    unread = [one.lesson.student_id for one in told if one.read_at is None]
    return Count(top=len(told) - len(unread), bottom=len(told), students=list(dict.fromkeys(unread)),
                 words="The list names who has not read one of them.")


def first_ten(world: World) -> Count:
    without = [row.student.pk for row in world.rows if row.first_ten_visits < row.return_visits]
    return Count(top=sum(row.first_ten_visits for row in world.rows),
                 bottom=sum(row.return_visits for row in world.rows), students=without,
                 words="The list names students with a visit that began otherwise.")


def _median_hours(told: list[Facts]) -> str:
    waits = sorted(
        max(0.0, (one.given_at - (one.lesson.finished_at or one.lesson.starts_at)).total_seconds() / 3600)
        for one in told if one.given_at is not None
    )
    if not waits:
        return "None was given."
    middle = (waits[(len(waits) - 1) // 2] + waits[len(waits) // 2]) / 2
    return f"Half of them within {middle:.1f} hours."


def _of_lessons(inside: list[Visit], whole: list[Visit]) -> Count:
    return Count(top=len(inside), bottom=len(whole), students=list(dict.fromkeys(visit.student for visit in inside)))
