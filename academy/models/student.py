"""The student."""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils import timezone

from .academy import Academy, Units
from .base import Recorded


class StudentQuerySet(models.QuerySet):
    def visible_to(self, coach) -> "StudentQuerySet":
        """Return the students this person may see: an owner all, a coach the own ones."""
        if coach.is_owner:
            return self
        return self.filter(coach=coach) if coach.is_coach else self.none()

    def shown_to(self, coach) -> "StudentQuerySet":
        """Return the students this person finds by name: those they may see, and everybody's for a coach where the
        academy shares its students. Being found opens neither notes nor health, nor anything that is written."""
        if coach.is_owner or not coach.is_coach:
            return self.visible_to(coach)
        shared = Academy.objects.filter(house_rules__students_shared=True)
        return self.filter(models.Q(coach=coach) | models.Exists(shared))

    def here(self) -> "StudentQuerySet":
        """Return those who have not left and were not merged or removed."""
        return self.exclude(status=Student.Status.LEFT)


class Student(Recorded):
    """A person who is taught. Numbers stored for them are player-relative, whichever hand they use."""

    class Hand(models.TextChoices):
        RIGHT = "right", "Right-handed"
        LEFT = "left", "Left-handed"

    class Status(models.TextChoices):
        ACTIVE = "active", "Active"
        PAUSED = "paused", "Paused"
        LEFT = "left", "Left the academy"

    class Pause(models.TextChoices):
        NONE = "", "—"
        INJURY = "injury", "Injury or illness"
        AWAY = "away", "Away"
        FAMILY = "family", "Family"
        SEASON = "season", "Season break"
        OTHER = "other", "Other"

    coach = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="students")
    name = models.CharField(max_length=120)
    hand = models.CharField(max_length=5, choices=Hand.choices, default=Hand.RIGHT)
    born_on = models.DateField(null=True, blank=True)
    email = models.EmailField(blank=True)
    phone = models.CharField(max_length=40, blank=True)
    handicap_index = models.FloatField(null=True, blank=True)
    is_beginner = models.BooleanField(default=False)
    height_cm = models.FloatField(null=True, blank=True)
    shoulder_width_cm = models.FloatField(null=True, blank=True)
    units = models.CharField(max_length=8, choices=Units.choices, blank=True)
    language = models.CharField(max_length=12, blank=True)
    practice_minutes_week = models.PositiveSmallIntegerField(null=True, blank=True)
    status = models.CharField(max_length=6, choices=Status.choices, default=Status.ACTIVE)
    pause_reason = models.CharField(max_length=8, choices=Pause.choices, blank=True, default="")
    paused_until = models.DateField(null=True, blank=True)
    notes = models.TextField(blank=True, help_text="The coach's own; never on the student's page.")
    demo_hint = models.CharField(max_length=300, blank=True, editable=False)

    objects = StudentQuerySet.as_manager()

    class Meta:
        ordering = ["name"]
        constraints = [
            models.CheckConstraint(
                condition=Q(handicap_index__isnull=True)
                | Q(handicap_index__gte=-10, handicap_index__lte=54),
                name="student_index_possible",
            ),
            models.CheckConstraint(
                condition=Q(shoulder_width_cm__isnull=True)
                | Q(shoulder_width_cm__gte=20, shoulder_width_cm__lte=70),
                name="student_shoulders_possible",
            ),
            models.CheckConstraint(
                condition=Q(height_cm__isnull=True) | Q(height_cm__gte=70, height_cm__lte=250),
                name="student_height_possible",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def first_name(self) -> str:
        return self.name.split()[0] if self.name else ""

    @property
    def left_handed(self) -> bool:
        return self.hand == self.Hand.LEFT

    def age_on(self, day) -> int | None:
        """Return the age in whole years, None where the birthday is not known."""
        if self.born_on is None:
            return None
        return day.year - self.born_on.year - ((day.month, day.day) < (self.born_on.month, self.born_on.day))

    def is_junior(self, *, adult_age: int = 18) -> bool:
        """Say whether the student is under age today; unknown birthdays count as adult."""
        age = self.age_on(timezone.localdate())
        return age is not None and age < adult_age
