"""Drills given to a student, and what was practised of them."""

from django.db import models
from django.db.models import Q

from academy.models import Recorded, Student

from .lesson import Lesson


class DrillAssignment(Recorded):
    """A drill with its dose. ``drill`` is a slug of the library; the card is kept as it was given."""

    student = models.ForeignKey(Student, on_delete=models.CASCADE, related_name="assignments")
    lesson = models.ForeignKey(Lesson, null=True, blank=True, on_delete=models.CASCADE, related_name="assignments")
    drill = models.CharField(max_length=60)
    card = models.JSONField(default=dict, blank=True)
    dose = models.CharField(max_length=120, blank=True)
    minutes_week = models.PositiveSmallIntegerField(null=True, blank=True)
    starts_on = models.DateField()
    ends_on = models.DateField(null=True, blank=True)
    removed_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["pk"]

    @property
    def name(self) -> str:
        return self.card.get("name", self.drill)


class PracticeEntry(Recorded):
    """One practice, ticked by the student."""

    student = models.ForeignKey(Student, on_delete=models.CASCADE, related_name="practice")
    assignment = models.ForeignKey(
        DrillAssignment, null=True, blank=True, on_delete=models.SET_NULL, related_name="entries"
    )
    key = models.UUIDField(unique=True)
    practised_at = models.DateTimeField()
    minutes = models.PositiveSmallIntegerField(null=True, blank=True)
    balls = models.PositiveSmallIntegerField(null=True, blank=True)
    hits = models.PositiveSmallIntegerField(null=True, blank=True)
    pain = models.PositiveSmallIntegerField(null=True, blank=True)
    fun = models.PositiveSmallIntegerField(null=True, blank=True, help_text="1 none to 3 a lot; asked of children.")
    note = models.CharField(max_length=300, blank=True)

    class Meta:
        ordering = ["-practised_at"]
        constraints = [
            models.CheckConstraint(condition=Q(pain__isnull=True) | Q(pain__lte=10), name="practice_pain_to_ten"),
            models.CheckConstraint(
                condition=Q(fun__isnull=True) | Q(fun__gte=1, fun__lte=3), name="practice_fun_of_three"),
        ]
