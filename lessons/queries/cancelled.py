"""Hours that were cancelled, for whoever has to tell the people who would have come."""

from collections.abc import Mapping
from datetime import date, datetime, time, timedelta
from uuid import UUID

from django.db.models import Q, QuerySet
from django.utils import timezone

from academy.models import Coach
from lessons.models import Booking, Lesson
from lessons.models.diary import CancelReason


def cancelled_hours(*, viewer: Coach, asked: Mapping[str, str]) -> list[Lesson]:
    """Return the cancelled hours of one class, one booking, or one coach's day, as the address asks for.

    Nothing where the address makes no sense. One query.
    """
    rows = Lesson.objects.filter(status=Lesson.Status.CANCELLED, booking__isnull=False)
    if not viewer.is_owner:
        rows = rows.filter(Q(student__coach=viewer) | Q(coach=viewer))
    try:
        rows = _narrowed(rows, viewer, asked)
    except (ValueError, OverflowError):
        return []
    rows = rows.select_related("student__coach", "coach", "booking__group")
    return list(rows.order_by("starts_at", "student__name"))


def note_for(*, booking: Booking | None, lesson: Lesson, viewer: Coach) -> str:
    """Return the words beside a cancellation. What was written about an illness is for those who teach alone."""
    if booking is None:
        return ""
    teaches = viewer.pk in (lesson.coach_id, lesson.student.coach_id)
    return booking.cancel_note if teaches or booking.cancel_reason != CancelReason.ILL else ""


def _narrowed(rows: QuerySet, viewer: Coach, asked: Mapping[str, str]) -> QuerySet:
    if asked.get("class"):
        return rows.filter(booking__group__code=UUID(asked["class"]))
    if asked.get("lesson"):
        return rows.filter(code=UUID(asked["lesson"]))
    day = date.fromisoformat(asked["day"]) if asked.get("day") else timezone.localdate()
    begin, end = (timezone.make_aware(datetime.combine(one, time())) for one in (day, day + timedelta(days=1)))
    coach = UUID(asked["coach"]) if asked.get("coach") else viewer.code
    return rows.filter(starts_at__gte=begin, starts_at__lt=end, coach__code=coach)
