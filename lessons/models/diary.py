"""The diary: what is noted about a booked lesson, classes, the waiting list, and when a coach works."""

from django.conf import settings
from django.db import models
from django.db.models import F, Q
from django.utils import timezone

from academy.models import Recorded, Student, Venue

from .lesson import Lesson


class CancelReason(models.TextChoices):
    NONE = "", "—"
    STUDENT = "student", "The student asked"
    ILL = "ill", "Ill or injured"
    WEATHER = "weather", "Weather"
    COACH = "coach", "The coach cannot come"
    PLACE = "place", "The place is closed"
    OTHER = "other", "Another reason"


STUDENTS_REASONS = (CancelReason.STUDENT, CancelReason.ILL)
"""Reasons of the student's; only these can be late cancellations."""


class GroupClass(Recorded):
    """A class: one hour, one coach, several students. Each registered student has a lesson of kind “group”."""

    class Status(models.TextChoices):
        PLANNED = "planned", "Planned"
        HELD = "held", "Held"
        CANCELLED = "cancelled", "Cancelled"

    name = models.CharField(max_length=80)
    coach = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="classes")
    starts_at = models.DateTimeField(db_index=True)
    minutes = models.PositiveSmallIntegerField(default=60)
    venue = models.ForeignKey(Venue, null=True, blank=True, on_delete=models.PROTECT, related_name="+")
    bay = models.CharField(max_length=20, blank=True)
    capacity = models.PositiveSmallIntegerField(default=6)
    helpers = models.PositiveSmallIntegerField(default=0, help_text="Adults present besides the coach.")
    stations = models.JSONField(default=list, blank=True)
    """What is laid out: title, zone, how and minutes of each station, in order."""
    status = models.CharField(max_length=9, choices=Status.choices, default=Status.PLANNED)
    cancel_reason = models.CharField(max_length=7, choices=CancelReason.choices, blank=True, default="")

    class Meta:
        ordering = ["starts_at", "pk"]
        verbose_name_plural = "group classes"
        constraints = [models.CheckConstraint(condition=Q(capacity__gte=1), name="class_holds_somebody")]

    def __str__(self) -> str:
        return self.name


class Booking(Recorded):
    """What the diary notes about a lesson beside the lesson itself.

    ``sequence``, ``changed_at`` and ``published`` belong to the calendar file: they only ever go forward, whatever
    is undone, and are no part of the journal.
    """

    lesson = models.OneToOneField(Lesson, on_delete=models.CASCADE, related_name="booking")
    group = models.ForeignKey(GroupClass, null=True, blank=True, on_delete=models.PROTECT, related_name="bookings")
    bay = models.CharField(max_length=20, blank=True)
    series = models.UUIDField(null=True, blank=True, db_index=True, help_text="The same for a repeated hour.")
    cancel_reason = models.CharField(max_length=7, choices=CancelReason.choices, blank=True, default="")
    cancel_note = models.CharField(max_length=200, blank=True)
    cancelled_at = models.DateTimeField(null=True, blank=True)
    sequence = models.PositiveIntegerField(default=0, editable=False)
    changed_at = models.DateTimeField(default=timezone.now, editable=False)
    published = models.JSONField(default=dict, blank=True, editable=False)

    def __str__(self) -> str:
        return f"booking of {self.lesson_id}"

    def is_late(self, *, notice_hours: float) -> bool:
        """Say whether the student's side cancelled with less notice than the house asks for."""
        if self.cancelled_at is None or self.cancel_reason not in STUDENTS_REASONS:
            return False
        return (self.lesson.starts_at - self.cancelled_at).total_seconds() < notice_hours * 3600


class Waiting(Recorded):
    """Somebody who would come if an hour, or a place in a class, became free."""

    student = models.ForeignKey(Student, on_delete=models.CASCADE, related_name="waiting")
    coach = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="waiting")
    group = models.ForeignKey(GroupClass, null=True, blank=True, on_delete=models.CASCADE, related_name="waiting")
    wish = models.CharField(max_length=120, blank=True, help_text="Such as: Tuesdays after four.")
    until = models.DateField(null=True, blank=True)
    ended_on = models.DateField(null=True, blank=True)

    class Meta:
        ordering = ["pk"]
        verbose_name_plural = "waiting"

    def __str__(self) -> str:
        return f"{self.student} waits"


class WorkingHours(Recorded):
    """When a coach can be booked on one weekday; 0 is Monday. The academy's own clock."""

    WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")

    coach = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="working_hours")
    weekday = models.PositiveSmallIntegerField(choices=list(enumerate(WEEKDAYS)))
    opens = models.TimeField()
    closes = models.TimeField()

    class Meta:
        ordering = ["coach", "weekday", "opens"]
        verbose_name_plural = "working hours"
        constraints = [
            models.CheckConstraint(condition=Q(weekday__lte=6), name="hours_on_a_weekday"),
            models.CheckConstraint(condition=Q(closes__gt=F("opens")), name="hours_close_after_opening"),
        ]

    def __str__(self) -> str:
        return f"{self.get_weekday_display()} {self.opens:%H:%M}–{self.closes:%H:%M}"

    @property
    def minutes(self) -> int:
        return (self.closes.hour - self.opens.hour) * 60 + self.closes.minute - self.opens.minute


class CalendarFeed(Recorded):
    """A private address under which a coach's calendar program reads the diary. Only a digest of it is kept."""

    coach = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="feeds")
    prefix = models.CharField(max_length=8, unique=True)
    digest = models.CharField(max_length=64)
    revoked_at = models.DateTimeField(null=True, blank=True)
    read_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-pk"]
