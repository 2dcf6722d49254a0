"""The clubs in a student's bag, each with its dates, and the flight the student wants from each kind."""

from django.db import models
from django.db.models import F, Q

from metrics.clubs import CATEGORIES

from .base import Recorded
from .student import Student

CATEGORY_CHOICES = list(CATEGORIES.items())


class Club(Recorded):
    """A club between two dates. A new shaft or loft is a new row: numbers before and after do not mix."""

    student = models.ForeignKey(Student, on_delete=models.CASCADE, related_name="clubs")
    name = models.CharField(max_length=40)
    category = models.CharField(max_length=16, choices=CATEGORY_CHOICES)
    loft_deg = models.FloatField(null=True, blank=True)
    lie_deg = models.FloatField(null=True, blank=True)
    length_cm = models.FloatField(null=True, blank=True)
    shaft = models.CharField(max_length=60, blank=True)
    grip = models.CharField(max_length=60, blank=True)
    from_date = models.DateField(null=True, blank=True)
    to_date = models.DateField(null=True, blank=True)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(condition=Q(category__in=list(CATEGORIES)), name="club_category_known"),
            models.CheckConstraint(
                condition=Q(from_date__isnull=True) | Q(to_date__isnull=True) | Q(to_date__gte=F("from_date")),
                name="club_ends_after_start",
            ),
        ]

    def __str__(self) -> str:
        return self.name


class Intent(Recorded):
    """The flight a student wants with one kind of club."""

    class Shape(models.TextChoices):
        STRAIGHT = "straight", "Straight"
        DRAW = "draw", "Draw"
        FADE = "fade", "Fade"

    student = models.ForeignKey(Student, on_delete=models.CASCADE, related_name="intents")
    category = models.CharField(max_length=16, choices=CATEGORY_CHOICES)
    shape = models.CharField(max_length=8, choices=Shape.choices, default=Shape.STRAIGHT)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["student", "category"], name="one_intent_a_category")]
