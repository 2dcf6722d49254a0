"""What the student works toward."""

from django.db import models

from .base import Recorded
from .club import CATEGORY_CHOICES, Club, Intent
from .student import Student


class Goal(Recorded):
    """A goal in the student's words; a measurable one names its number, club, window, test and date.

    ``test`` says where the number is read: "first_ten" (``quantity`` of the ball, club and flight named), the slug of
    a short-game test (limits in per cent), or "rounds" (limits in strokes). Empty for a goal of words.
    """

    FIRST_TEN, ROUNDS = "first_ten", "rounds"

    class Kind(models.TextChoices):
        PROCESS = "process", "Process"
        PERFORMANCE = "performance", "Performance"
        OUTCOME = "outcome", "Outcome"

    student = models.ForeignKey(Student, on_delete=models.CASCADE, related_name="goals")
    kind = models.CharField(max_length=11, choices=Kind.choices, default=Kind.PROCESS)
    text = models.CharField(max_length=200)
    quantity = models.CharField(max_length=40, blank=True, help_text="A shot field, such as club_path_deg.")
    category = models.CharField(max_length=16, choices=CATEGORY_CHOICES, blank=True)
    club = models.ForeignKey(Club, null=True, blank=True, on_delete=models.SET_NULL, related_name="+")
    """One club of the bag; empty for any of its kind."""
    intent = models.CharField(max_length=8, choices=Intent.Shape.choices, blank=True)
    """The flight whose window counts where no limits are given; empty for the one the student wants by then."""
    test = models.CharField(max_length=24, blank=True)
    lower = models.FloatField(null=True, blank=True)
    upper = models.FloatField(null=True, blank=True)
    by_date = models.DateField(null=True, blank=True)
    ended_on = models.DateField(null=True, blank=True)

    class Meta:
        ordering = ["-kind", "pk"]  # process, performance, outcome: what can be done today comes first

    def __str__(self) -> str:
        return self.text

    @property
    def read_from(self) -> str:
        """Where its number is read; a number without a test is one of the ball."""
        return self.test or (self.FIRST_TEN if self.quantity else "")
