"""What the student works toward."""

from django.db import models

from .base import Recorded
from .club import CATEGORY_CHOICES
from .student import Student


class Goal(Recorded):
    """A goal in the student's words; a measurable one names its number, club and window."""

    class Kind(models.TextChoices):
        PROCESS = "process", "Process"
        PERFORMANCE = "performance", "Performance"
        OUTCOME = "outcome", "Outcome"

    student = models.ForeignKey(Student, on_delete=models.CASCADE, related_name="goals")
    kind = models.CharField(max_length=11, choices=Kind.choices, default=Kind.PROCESS)
    text = models.CharField(max_length=200)
    quantity = models.CharField(max_length=40, blank=True, help_text="A shot field, such as club_path_deg.")
    category = models.CharField(max_length=16, choices=CATEGORY_CHOICES, blank=True)
    lower = models.FloatField(null=True, blank=True)
    upper = models.FloatField(null=True, blank=True)
    by_date = models.DateField(null=True, blank=True)
    ended_on = models.DateField(null=True, blank=True)

    class Meta:
        ordering = ["kind", "pk"]

    def __str__(self) -> str:
        return self.text
