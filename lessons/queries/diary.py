"""The diary as columns of hours: a week of one coach, or one day of all coaches or bays.

Four queries for a view, however many lessons it holds. Rows are quarters of an hour by the academy's clock.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta
from typing import Any

from django.db.models import Q, QuerySet
from django.utils import timezone

from academy.models import Coach
from lessons.house import House, house
from lessons.models import GroupClass, Lesson

SHOWN = (Lesson.Status.PLANNED, Lesson.Status.RUNNING, Lesson.Status.FINISHED, Lesson.Status.NO_SHOW)
QUARTER = 15
SHORTEST_ROWS = 2
"""A quarter of an hour is too low for a name and a thumb."""


@dataclass(frozen=True, kw_only=True)
class Item:
    """A lesson or a class in its column. ``code`` is empty for what the reader may not open."""

    title: str
    under: str
    starts_at: datetime
    minutes: int
    row: int
    rows: int
    code: str = ""
    is_class: bool = False
    can_move: bool = False
    state: str = ""
    coach: str = ""
    coach_code: str = ""
    venue_code: str = ""
    bay: str = ""

    @property
    def ends_at(self) -> datetime:
        return self.starts_at + timedelta(minutes=self.minutes)


@dataclass(kw_only=True)
class Column:
    """What stands under one another: a day, a coach's day, or a bay's."""

    title: str
    day: date
    coach: Coach | None = None
    bay: str = ""
    venue_code: str = ""
    is_today: bool = False
    items: list[Item] = field(default_factory=list)


@dataclass(frozen=True, kw_only=True)
class Filters:
    """What is shown; every part of it stands in the address."""

    day: date
    view: str = "week"
    coach: Coach | None = None


def diary(*, viewer: Coach, filters: Filters) -> dict[str, Any]:
    """Return the columns, the hours beside them, and the days before and after."""
    rules = house()
    begin, days = _span(filters)
    lessons, classes = _lessons(viewer, filters, begin, days), _classes(viewer, filters, begin, days)
    first, last = _hours(rules, [*lessons, *classes])
    items = [_of_lesson(one, viewer, first) for one in lessons] + [_of_class(one, viewer, first) for one in classes]
    keyed = list(zip([*lessons, *classes], items, strict=True))
    make = {"week": _by_day, "coaches": _by_coach, "bays": _by_bay}[filters.view]
    columns = make(viewer, filters, begin, keyed)
    for column in columns:
        column.items.sort(key=lambda item: (item.starts_at, item.title))
    step = timedelta(days=days)
    return {
        "columns": columns, "hours": [(f"{hour}:00", (hour - first) * 4) for hour in range(first, last)],
        "rows": (last - first) * 4, "first_hour": first, "before": begin - step, "after": begin + step, "begin": begin,
        "end": begin + timedelta(days=days - 1), "filters": filters,
        "booked": sum(len(column.items) for column in columns),
    }


def moment_on(day: date, at: time = time()) -> datetime:
    """Return a moment by the academy's clock."""
    return timezone.make_aware(datetime.combine(day, at))


def _span(filters: Filters) -> tuple[date, int]:
    if filters.view == "week":
        return filters.day - timedelta(days=filters.day.weekday()), 7
    return filters.day, 1


def _lessons(viewer: Coach, filters: Filters, begin: date, days: int) -> list[Lesson]:
    """Return lessons that are no part of a class; in the view by bay also those of others, without their names."""
    rows = Lesson.objects.filter(
        starts_at__gte=moment_on(begin), starts_at__lt=moment_on(begin + timedelta(days=days)), status__in=SHOWN,
    ).filter(Q(booking__isnull=True) | Q(booking__group__isnull=True)).exclude(kind=Lesson.Kind.PRACTICE)
    return list(_whose(rows, viewer, filters).select_related("student", "coach", "venue", "booking")
                .only(*_LESSON_FIELDS))


_LESSON_FIELDS = (
    "code", "starts_at", "minutes", "status", "kind", "student__name", "student__coach", "coach__first_name",
    "coach__last_name", "coach__username", "coach__code", "venue__name", "venue__code", "booking__bay",
)


def _classes(viewer: Coach, filters: Filters, begin: date, days: int) -> list[GroupClass]:
    rows = GroupClass.objects.filter(
        starts_at__gte=moment_on(begin), starts_at__lt=moment_on(begin + timedelta(days=days)),
    ).exclude(status=GroupClass.Status.CANCELLED)
    rows = _whose(rows, viewer, filters, student=False).select_related("coach", "venue")
    return list(rows.prefetch_related("bookings__lesson"))


def _whose(rows: QuerySet, viewer: Coach, filters: Filters, *, student: bool = True) -> QuerySet:
    if filters.coach is not None and filters.view != "bays":
        rows = rows.filter(coach=filters.coach)
    if viewer.is_owner or filters.view == "bays":
        return rows
    own = Q(coach=viewer) | Q(student__coach=viewer) if student else Q(coach=viewer)
    return rows.filter(own)


def _hours(rules: House, found: Iterable[Any]) -> tuple[int, int]:
    """Return the first hour shown and the one after the last, wide enough for what is booked."""
    first, last = rules.first_hour, rules.last_hour
    for one in found:
        starts = timezone.localtime(one.starts_at)
        end = starts.hour + (starts.minute + one.minutes + 59) // 60
        first, last = min(first, starts.hour), max(last, min(end, 24))
    return first, last


def _place(starts_at: datetime, minutes: int, first: int) -> tuple[int, int]:
    starts = timezone.localtime(starts_at)
    row = ((starts.hour - first) * 60 + starts.minute) // QUARTER + 1
    return row, max(SHORTEST_ROWS, -(-minutes // QUARTER))


def _of_lesson(lesson: Lesson, viewer: Coach, first: int) -> Item:
    seen = viewer.is_owner or viewer.pk in (lesson.coach_id, lesson.student.coach_id)
    row, rows = _place(lesson.starts_at, lesson.minutes, first)
    bay = lesson.booking.bay if hasattr(lesson, "booking") else ""
    planned = lesson.status == Lesson.Status.PLANNED
    return Item(
        title=lesson.student.name if seen else "Taken", under=_under(lesson, bay), starts_at=lesson.starts_at,
        minutes=lesson.minutes, row=row, rows=rows, code=str(lesson.code) if seen else "", bay=bay,
        can_move=seen and planned, state="" if planned else lesson.get_status_display(), coach=str(lesson.coach),
        coach_code=str(lesson.coach.code), venue_code=str(lesson.venue.code) if lesson.venue else "",
    )


def _of_class(one: GroupClass, viewer: Coach, first: int) -> Item:
    row, rows = _place(one.starts_at, one.minutes, first)
    here = sum(booking.lesson.status != Lesson.Status.CANCELLED for booking in one.bookings.all())
    return Item(
        title=one.name, under=f"{here} of {one.capacity}", starts_at=one.starts_at, minutes=one.minutes, row=row,
        rows=rows, code=str(one.code) if viewer.is_owner or one.coach_id == viewer.pk else "", is_class=True,
        coach=str(one.coach), bay=one.bay, state="Held" if one.status == GroupClass.Status.HELD else "",
    )


def _under(lesson: Lesson, bay: str) -> str:
    kind = "" if lesson.kind == Lesson.Kind.LESSON else lesson.get_kind_display().lower()
    place = f"bay {bay}" if bay else (lesson.venue.name if lesson.venue else "")
    return ", ".join(word for word in (kind, place) if word)


def _by_day(viewer: Coach, filters: Filters, begin: date, keyed: list) -> list[Column]:
    today = timezone.localdate()
    days = [begin + timedelta(days=number) for number in range(7)]
    columns = {day: Column(title=f"{day:%a %-d %b}", day=day, coach=filters.coach, is_today=day == today)
               for day in days}
    for row, item in keyed:
        columns[timezone.localdate(row.starts_at)].items.append(item)
    return list(columns.values())


def _by_coach(viewer: Coach, filters: Filters, begin: date, keyed: list) -> list[Column]:
    columns = {
        coach.pk: Column(title=str(coach), day=begin, coach=coach)
        for coach in coaches_of(viewer) if filters.coach is None or coach == filters.coach
    }
    for row, item in keyed:
        columns.setdefault(row.coach_id, Column(title=str(row.coach), day=begin, coach=row.coach)).items.append(item)
    return list(columns.values())


def _by_bay(viewer: Coach, filters: Filters, begin: date, keyed: list) -> list[Column]:
    columns: dict[tuple[str, str], Column] = {}
    for row, item in keyed:
        venue = row.venue.name if row.venue else ""
        title = ", ".join(word for word in (venue or "No place noted", f"bay {item.bay}" if item.bay else "") if word)
        column = columns.setdefault((venue, item.bay), Column(
            title=title, day=begin, bay=item.bay, venue_code=str(row.venue.code) if row.venue else ""
        ))
        column.items.append(item)
    return [columns[key] for key in sorted(columns)]


def coaches_of(viewer: Coach) -> list[Coach]:
    """Return the coaches whose diary this person keeps: an owner all, a coach the own. One query for an owner."""
    if not viewer.is_owner:
        return [viewer]
    return list(Coach.objects.filter(is_coach=True, is_active=True).order_by("first_name", "last_name", "pk"))
