"""One booking, one class, the waiting list, and the calendar files of them."""

from datetime import datetime, time, timedelta
from typing import Any
from uuid import UUID

from django.db.models import Q
from django.utils import timezone

from academy.models import Change, Coach, Student
from lessons.house import house
from lessons.ics import Event, calendar_bytes
from lessons.models import Booking, GroupClass, Lesson, Waiting

from .cancelled import note_for

FEED_BACK, FEED_AHEAD = timedelta(days=60), timedelta(days=400)
CHILD = 12
DIARY = {"lessons.lesson", "lessons.booking", "lessons.groupclass", "lessons.packageentry"}
HOUR = {"starts_at", "minutes", "coach", "venue", "status", "finished_at"}
"""What the diary writes: these tables, and of a lesson these columns."""


def booking_page(*, lesson: Lesson, viewer: Coach) -> dict[str, Any]:
    """Return what stands about one booking. Four queries."""
    booking = Booking.objects.filter(lesson=lesson).select_related("group").first()
    return {
        "lesson": lesson, "student": lesson.student, "booking": booking,
        "last_change": diary_change(lesson.code, viewer=viewer),
        "note": note_for(booking=booking, lesson=lesson, viewer=viewer),
        "late": booking is not None and booking.is_late(notice_hours=house().late_cancel_hours),
        "series": booking is not None and booking.series is not None,
        "waiting": waiting_for(viewer=viewer, coach=lesson.coach) if lesson.status == Lesson.Status.CANCELLED else [],
    }


def class_page(*, group: GroupClass, viewer: Coach) -> dict[str, Any]:
    """Return a class with its register, who waits, and whether enough adults are there. Six queries."""
    lessons = list(
        Lesson.objects.filter(booking__group=group).select_related("student", "booking").order_by("student__name")
    )
    here = [lesson for lesson in lessons if lesson.status != Lesson.Status.CANCELLED
            or group.status == GroupClass.Status.CANCELLED]
    return {
        "group": group, "lessons": here, "free": group.capacity - len(here), "ratio": ratio(group, here),
        "waiting": list(group.waiting.filter(ended_on=None).select_related("student")),
        "last_change": diary_change(group.code, viewer=viewer), "planned": group.status == GroupClass.Status.PLANNED,
    }


def ratio(group: GroupClass, lessons: list[Lesson]) -> dict[str, Any]:
    """Return how many adults the house asks for, how many are there, and the sentence. One query."""
    rules, day = house(), timezone.localdate(group.starts_at)
    children = sum((lesson.student.age_on(day) or CHILD) < CHILD for lesson in lessons)
    most = rules.children_per_adult if children else rules.students_per_adult
    needed, there = max(1, -(-len(lessons) // most)), 1 + group.helpers
    whom = "with children under twelve" if children else "without children under twelve"
    return {
        "enough": there >= needed, "needed": needed, "there": there,
        "sentence": f"{len(lessons)} students {whom}: the house asks for one adult to {most}, so {needed}; "
                    f"{there} noted.",
    }


def waiting_for(*, viewer: Coach, coach: Coach | None = None) -> list[Waiting]:
    """Return who waits, longest first. One query."""
    rows = Waiting.objects.filter(ended_on=None, student__in=Student.objects.visible_to(viewer))
    rows = rows.filter(Q(until=None) | Q(until__gte=timezone.localdate()))
    if coach is not None:
        rows = rows.filter(coach=coach)
    return list(rows.select_related("student", "coach", "group").order_by("created_at"))


def feed_bytes(*, coach: Coach, now: datetime) -> bytes:
    """Return a coach's diary for a calendar program: first name and one letter, no more. Two queries."""
    span = {"starts_at__gte": now - FEED_BACK, "starts_at__lt": now + FEED_AHEAD}
    lessons = (
        Lesson.objects.filter(coach=coach, **span).exclude(status=Lesson.Status.NO_SHOW)
        .exclude(booking__group__isnull=False).select_related("student", "venue", "booking").order_by("starts_at")
    )
    events = [lesson_event(lesson, summary=f"{_short(lesson.student)}: {lesson.get_kind_display().lower()}")
              for lesson in lessons]
    classes = GroupClass.objects.filter(coach=coach, **span).select_related("venue")
    events += [_class_event(one) for one in classes.prefetch_related("bookings")]
    return calendar_bytes(events=events, name=str(coach))


def booking_bytes(*, lesson: Lesson) -> bytes:
    """Return one lesson for the student's own calendar; a cancelled one takes itself out there."""
    cancelled = lesson.status == Lesson.Status.CANCELLED
    event = lesson_event(lesson, summary=f"Golf with {lesson.coach}", organized=True)
    return calendar_bytes(events=[event], name="Golf", method="CANCEL" if cancelled else "PUBLISH")


def lesson_event(lesson: Lesson, *, summary: str, organized: bool = False) -> Event:
    """Return a lesson as an event; its uid is the lesson's own code, whatever happens to it."""
    booking = getattr(lesson, "booking", None)
    place = ", ".join(word for word in (
        lesson.venue.name if lesson.venue else "", f"bay {booking.bay}" if booking and booking.bay else "") if word)
    return Event(
        uid=f"{lesson.code}@holdfast", starts=lesson.starts_at, minutes=lesson.minutes, summary=summary,
        location=place,
        sequence=booking.sequence if booking else 0, changed_at=booking.changed_at if booking else lesson.created_at,
        cancelled=lesson.status == Lesson.Status.CANCELLED,
        organizer=(str(lesson.coach), lesson.coach.email or "nobody@invalid") if organized else None,
    )


def _class_event(one: GroupClass) -> Event:
    told = list(one.bookings.all())
    return Event(
        uid=f"{one.code}@holdfast", starts=one.starts_at, minutes=one.minutes, summary=one.name,
        location=one.venue.name if one.venue else "", cancelled=one.status == GroupClass.Status.CANCELLED,
        sequence=max((booking.sequence for booking in told), default=0),
        changed_at=max((booking.changed_at for booking in told), default=one.created_at),
    )


def _short(student: Student) -> str:
    """A first name and one letter: calendars of phones are kept by others."""
    first, *rest = student.name.split()
    return f"{first} {rest[-1][0]}." if rest else first


def planned_today(*, coach: Coach, now: datetime) -> list[Lesson]:
    """Return what a coach still has planned today, classes apart. One query."""
    end = timezone.make_aware(datetime.combine(timezone.localdate(now) + timedelta(days=1), time()))
    rows = Lesson.objects.filter(coach=coach, status=Lesson.Status.PLANNED, starts_at__gte=now, starts_at__lt=end)
    return list(rows.exclude(booking__group__isnull=False).select_related("student"))


def changed(*, viewer: Coach, code: str) -> dict[str, Any] | None:
    """Return what was last done to the lesson that the address names, for the line with its undo. Two queries."""
    try:
        rows = Lesson.objects.filter(code=UUID(code), student__in=Student.objects.visible_to(viewer))
    except ValueError:
        return None
    lesson = rows.select_related("student").first()
    change = diary_change(lesson.code, viewer=viewer) if lesson else None
    return {"lesson": lesson, "said": f"{lesson.student.name}: {change}."} if change else None


def diary_change(code: UUID, *, viewer: Coach) -> Change | None:
    """Return the newest change of a lesson or class where it is one of the diary's, or the viewer's own; None where
    it was written in the lesson by somebody else: an owner who keeps the diary neither reads nor undoes that. One
    query."""
    change = Change.objects.filter(lesson_code=code, undone_at=None).select_related("created_by").first()
    if change is None or change.created_by_id == viewer.pk:
        return change
    return change if all(map(_of_the_diary, change.operations)) else None


def _of_the_diary(operation: dict[str, Any]) -> bool:
    if operation["model"] == "lessons.lesson" and operation["do"] == "update":
        return {*operation["after"]} <= HOUR
    return operation["model"] in DIARY
