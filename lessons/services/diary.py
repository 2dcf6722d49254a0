"""The diary: book, repeat, move, cancel, note who did not come. Each step is in the journal and can be undone."""

import uuid
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone

from academy.journal import journal
from academy.models import Change, Coach, Student, Venue
from lessons.models import Booking, GroupClass, Lesson, Waiting, WorkingHours
from lessons.queries.bookings import diary_change
from lessons.repeats import weekly

from .calendar import publish
from .history import undo_change
from .lessons import book_lesson

MOVED_BY_HAND = (Lesson.Status.PLANNED,)


@dataclass(frozen=True, kw_only=True)
class Booked:
    """The lessons that were booked, and a sentence for each week that could not have its hour."""

    lessons: list[Lesson]
    skipped: list[str]


@transaction.atomic
def book_weekly(
    *, by: Coach, student: Student, key: uuid.UUID, starts_at: datetime, times: int = 1, every: int = 1, **values: Any
) -> Booked:
    """Book a lesson, or the same hour for some weeks. The same key books once."""
    repeats = weekly(first=starts_at, times=times, every=every, zone=timezone.get_current_timezone())
    series = uuid.uuid5(key, "series") if times > 1 else None
    lessons = [
        book_lesson(
            by=by, student=student, starts_at=moment, series=series,
            code=key if number == 0 else uuid.uuid5(key, str(number)), **values,
        )
        for number, moment in enumerate(repeats.moments)
    ]
    return Booked(lessons=lessons, skipped=repeats.skipped)


@transaction.atomic
def move_lesson(
    *, by: Coach, lesson: Lesson, starts_at: datetime, minutes: int, coach: Coach, venue: Venue | None, bay: str = "",
) -> Lesson:
    """Give a planned lesson another hour, length, coach or place. ValidationError where it is planned no more."""
    lesson = _planned(lesson, "moved")
    booking = booking_of(lesson)
    when = f"{timezone.localtime(starts_at):%-d %B, %H:%M}"
    with journal(by=by, student=lesson.student, lesson_code=lesson.code, sentence=f"Lesson moved to {when}") as entry:
        entry.update(lesson, starts_at=starts_at, minutes=minutes, coach=coach, venue=venue)
        entry.update(booking, bay=bay)
    publish([lesson])
    return lesson


@transaction.atomic
def cancel_lesson(*, by: Coach, lesson: Lesson, reason: str, note: str = "") -> Lesson:
    """Cancel a planned lesson with its reason."""
    lesson = _planned(lesson, "cancelled")
    booking = booking_of(lesson)
    with journal(by=by, student=lesson.student, lesson_code=lesson.code, sentence="Lesson cancelled") as entry:
        entry.update(lesson, status=Lesson.Status.CANCELLED)
        entry.update(booking, cancel_reason=reason, cancel_note=note, cancelled_at=timezone.now())
    publish([lesson])
    return lesson


def cancel_lessons(*, by: Coach, lessons: Iterable[Lesson], reason: str, note: str = "") -> int:
    """Cancel several, such as the rest of a day for the weather; return how many."""
    with transaction.atomic():
        return len([cancel_lesson(by=by, lesson=lesson, reason=reason, note=note) for lesson in lessons])


@transaction.atomic
def mark_no_show(*, by: Coach, lesson: Lesson) -> Lesson:
    """Note that the student did not come. Refused before the lesson was due."""
    lesson = _planned(lesson, "marked")
    if lesson.starts_at > timezone.now():
        raise ValidationError("This lesson is still to come; cancel it, or wait until its hour.")
    with journal(by=by, student=lesson.student, lesson_code=lesson.code, sentence="Did not come") as entry:
        entry.update(lesson, status=Lesson.Status.NO_SHOW)
    return lesson


def series_after(lesson: Lesson) -> list[Lesson]:
    """Return the planned lessons of the same series from this one on, this one first. One query."""
    booking = booking_of(lesson)
    if booking.series is None:
        return [lesson]
    rows = Lesson.objects.filter(
        booking__series=booking.series, starts_at__gte=lesson.starts_at, status=Lesson.Status.PLANNED
    )
    return list(rows.select_related("student").order_by("starts_at"))


def moves_of_series(*, lesson: Lesson, starts_at: datetime) -> list[tuple[Lesson, datetime | None]]:
    """Return this lesson and the later ones of its series, each with its new moment: as many days on, at the same
    hour. None for an hour that a clock change skips. Two queries at most."""
    zone = timezone.get_current_timezone()
    old, new = (timezone.make_naive(moment, zone) for moment in (lesson.starts_at, starts_at))
    moves: list[tuple[Lesson, datetime | None]] = []
    for row in series_after(lesson):
        wanted = timezone.make_naive(row.starts_at, zone) + (new - old)
        moments = weekly(first=wanted.replace(tzinfo=zone), times=1, zone=zone).moments
        moves.append((row, moments[0] if moments else None))
    return moves


@transaction.atomic
def move_series(*, by: Coach, lesson: Lesson, starts_at: datetime, **values: Any) -> int:
    """Move this lesson and the later ones of its series by as many days and to the same hour; return how many."""
    moves = moves_of_series(lesson=lesson, starts_at=starts_at)
    for row, moment in moves:
        if moment is None:
            day = f"{timezone.localtime(row.starts_at):%-d %B %Y}"
            raise ValidationError(f"The lesson of {day} would fall into the hour that the clocks skip that night.")
        move_lesson(by=by, lesson=row, starts_at=moment, **values)
    return len(moves)


def undo_booking(*, by: Coach, code: uuid.UUID) -> Change | None:
    """Take the newest change of a lesson or class back and return it; None where somebody else wrote it in the lesson
    itself. Raises CannotUndo with a reason."""
    change = diary_change(code, viewer=by)
    if change is not None:
        undo_change(by=by, change=change)
    return change


@transaction.atomic
def wait_for(
    *, by: Coach, student: Student, coach: Coach, group: GroupClass | None = None, wish: str = "",
    until: date | None = None,
) -> Waiting:
    """Put somebody on the waiting list; who waits for the same already is returned."""
    Student.objects.select_for_update().only("pk").get(pk=student.pk)
    same = Waiting.objects.filter(student=student, coach=coach, group=group, wish=wish, ended_on=None).first()
    if same is not None:
        return same
    row = Waiting(student=student, coach=coach, group=group, wish=wish, until=until)
    with journal(by=by, student=student, sentence=f"{student.name} waits for an hour") as entry:
        entry.create(row)
    return row


def stop_waiting(*, by: Coach, row: Waiting) -> None:
    """Take somebody off the list."""
    with journal(by=by, student=row.student, sentence=f"{row.student.name} waits no more") as entry:
        entry.update(row, ended_on=timezone.localdate())


def add_hours(*, by: Coach, coach: Coach, **values: Any) -> WorkingHours:
    """Store when a coach can be booked on a weekday."""
    row = WorkingHours(coach=coach, **values)
    with journal(by=by, sentence=f"Hours of {coach}: {row}") as entry:
        entry.create(row)
    return row


def drop_hours(*, by: Coach, coach: Coach, code: str) -> None:
    """Take hours away; a code of nothing takes nothing away."""
    for row in coach.working_hours.all():
        if str(row.code) == code:
            row.delete()


def booking_of(lesson: Lesson) -> Booking:
    """Return what the diary notes about a lesson; lessons that came otherwise get an empty note."""
    return Booking.objects.get_or_create(lesson=lesson)[0]


def _planned(lesson: Lesson, what: str) -> Lesson:
    fresh = Lesson.objects.select_for_update(of=("self",)).select_related("student").get(pk=lesson.pk)
    if fresh.status not in MOVED_BY_HAND:
        raise ValidationError(f"This lesson is marked “{fresh.get_status_display()}” and cannot be {what}.")
    return fresh
