"""What speaks against an hour: somebody or some bay is taken, the way is too long, the coach does not work then."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.db.models import Q
from django.utils import timezone

from academy.models import Coach, Student, Venue
from lessons.house import house
from lessons.models import GroupClass, Lesson, WorkingHours

STANDS = (Lesson.Status.PLANNED, Lesson.Status.RUNNING)
LONGEST = timedelta(hours=6)
"""No lesson is longer; earlier ones cannot reach into the hour that is asked about."""


@dataclass(frozen=True, kw_only=True)
class Slot:
    """An hour that is wanted."""

    coach: Coach
    starts_at: datetime
    minutes: int
    venue: Venue | None = None
    bay: str = ""
    student: Student | None = None

    @property
    def ends_at(self) -> datetime:
        return self.starts_at + timedelta(minutes=self.minutes)


@dataclass(frozen=True, kw_only=True)
class _Taken:
    """An hour that is taken, by a lesson or a class."""

    name: str
    starts_at: datetime
    ends_at: datetime
    coach_id: int
    student_id: int | None
    venue_id: int | None
    bay: str

    def overlaps(self, slot: Slot) -> bool:
        return self.starts_at < slot.ends_at and slot.starts_at < self.ends_at

    def when(self) -> str:
        return f"{timezone.localtime(self.starts_at):%H:%M}–{timezone.localtime(self.ends_at):%H:%M}"


def warnings_of_series(*, slots: Iterable[Slot], viewer: Coach, moving: Collection[Lesson] = ()) -> list[str]:
    """Return what speaks against any hour of a series, the later ones with their day. Four queries an hour."""
    found = []
    for number, slot in enumerate(slots):
        day = f"{timezone.localtime(slot.starts_at):%-d %B}: " if number else ""
        found += [day + sentence for sentence in warnings(slot=slot, viewer=viewer, moving=moving)]
    return found


def warnings(*, slot: Slot, viewer: Coach, moving: Collection[Lesson] = ()) -> list[str]:
    """Return a sentence for everything that speaks against the slot. Four queries.

    Students whom the viewer may not see are not named. ``moving`` are the lessons that get a new hour by this, and
    so are in nobody's way.
    """
    travel = timedelta(minutes=house().travel_minutes)
    taken = _taken(slot, travel, viewer, moving)
    found = []
    for one in taken:
        found += _against(one, slot, travel)
    if not _works(slot):
        found.append(f"{slot.coach} does not work then; see the hours in the diary.")
    return list(dict.fromkeys(found))


def _against(one: _Taken, slot: Slot, travel: timedelta) -> list[str]:
    said = []
    if one.overlaps(slot):
        if one.coach_id == slot.coach.pk:
            said.append(f"{slot.coach} has {one.name} then, {one.when()}.")
        if slot.student is not None and one.student_id == slot.student.pk:
            said.append(f"{slot.student.name} is booked already then, {one.when()}.")
        if slot.bay and one.bay == slot.bay and slot.venue and one.venue_id == slot.venue.pk:
            said.append(f"Bay {slot.bay} at {slot.venue} is taken then, {one.when()}.")
    elif one.coach_id == slot.coach.pk and slot.venue and one.venue_id not in (None, slot.venue.pk):
        gap = max(one.starts_at - slot.ends_at, slot.starts_at - one.ends_at)
        if gap < travel:
            said.append(
                f"{slot.coach} is at another place {one.when()}: {gap.seconds // 60} minutes for a way of "
                f"{travel.seconds // 60}."
            )
    return said


def _taken(slot: Slot, travel: timedelta, viewer: Coach, moving: Collection[Lesson]) -> list[_Taken]:
    near = Q(starts_at__gt=slot.starts_at - LONGEST, starts_at__lt=slot.ends_at + travel)
    whose = Q(coach=slot.coach)
    if slot.student is not None:
        whose |= Q(student=slot.student)
    if slot.bay and slot.venue is not None:
        whose |= Q(venue=slot.venue, booking__bay=slot.bay)
    lessons = Lesson.objects.filter(near, whose, status__in=STANDS).select_related("student", "booking")
    lessons = lessons.exclude(pk__in=[lesson.pk for lesson in moving])
    found = [_of_lesson(lesson, viewer) for lesson in lessons if not _in_class(lesson)]
    classes = GroupClass.objects.filter(near, status=GroupClass.Status.PLANNED)
    found += [_of_class(one) for one in classes]
    if slot.student is not None:
        found += [_of_lesson(lesson, viewer) for lesson in lessons
                  if _in_class(lesson) and lesson.student_id == slot.student.pk]
    return found


def _in_class(lesson: Lesson) -> bool:
    return hasattr(lesson, "booking") and lesson.booking.group_id is not None


def _of_lesson(lesson: Lesson, viewer: Coach) -> _Taken:
    seen = viewer.is_owner or viewer.pk in (lesson.coach_id, lesson.student.coach_id)
    return _Taken(
        name=lesson.student.name if seen else "another lesson", starts_at=lesson.starts_at,
        ends_at=lesson.starts_at + timedelta(minutes=lesson.minutes), coach_id=lesson.coach_id,
        student_id=lesson.student_id, venue_id=lesson.venue_id,
        bay=lesson.booking.bay if hasattr(lesson, "booking") else "",
    )


def _of_class(one: GroupClass) -> _Taken:
    return _Taken(
        name=f"the class “{one.name}”", starts_at=one.starts_at,
        ends_at=one.starts_at + timedelta(minutes=one.minutes),
        coach_id=one.coach_id, student_id=None, venue_id=one.venue_id, bay=one.bay,
    )


def _works(slot: Slot) -> bool:
    """Say whether the slot lies within the coach's hours; a coach without any noted works at all times."""
    hours = list(WorkingHours.objects.filter(coach=slot.coach))
    if not hours:
        return True
    starts, ends = timezone.localtime(slot.starts_at), timezone.localtime(slot.ends_at)
    return any(
        one.weekday == starts.weekday() and one.opens <= starts.time() and ends.date() == starts.date()
        and ends.time() <= one.closes for one in hours
    )
