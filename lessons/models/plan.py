"""What was planned, in versions: a change of plan is a new row with its reason, the old one stays."""

import uuid

from django.db import models
from django.db.models import Q

from academy.models import Recorded, Student

from .lesson import Lesson


class StudentEvent(Recorded):
    """A competition, trip or exam: in the weeks before it nothing is changed."""

    student = models.ForeignKey(Student, on_delete=models.CASCADE, related_name="events")
    name = models.CharField(max_length=120)
    on_date = models.DateField()
    removed_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["on_date", "pk"]

    def __str__(self) -> str:
        return self.name


class Plan(Recorded):
    """One version of one plan. ``thread`` is the plan, ``version`` counts; the highest present version is in use."""

    class Kind(models.TextChoices):
        LESSON = "lesson", "One lesson"
        SERIES = "series", "A series of visits"
        SEASON = "season", "A season"
        PRACTICE = "practice", "Practice"

    student = models.ForeignKey(Student, on_delete=models.CASCADE, related_name="plans")
    lesson = models.ForeignKey(Lesson, null=True, blank=True, on_delete=models.CASCADE, related_name="plans")
    kind = models.CharField(max_length=8, choices=Kind.choices)
    thread = models.UUIDField(default=uuid.uuid4, db_index=True)
    version = models.PositiveSmallIntegerField(default=1)
    title = models.CharField(max_length=120)
    starts_on = models.DateField()
    body = models.JSONField(default=dict)
    """What the planner proposed (metrics.plans, as_dict) and the coach accepted or edited."""
    ticked = models.JSONField(default=dict, blank=True)
    """Of the plan of a lesson: part -> the moment at which the coach ticked it off."""
    reason = models.CharField(max_length=300, blank=True, help_text="Why it was made, or changed.")
    ended_on = models.DateField(null=True, blank=True)
    removed_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["thread", "version"], condition=Q(removed_at__isnull=True), name="one_plan_a_version"
            )
        ]

    def __str__(self) -> str:
        return f"{self.title}, version {self.version}"


class PlanTemplate(Recorded):
    """An academy's own template, copied from a shipped one or from another; shipped ones are never changed."""

    class Kind(models.TextChoices):
        LESSON = "lesson", "One lesson"
        GROUP = "group", "Group lesson or clinic"

    kind = models.CharField(max_length=6, choices=Kind.choices)
    title = models.CharField(max_length=120)
    body = models.JSONField(default=dict)
    copied_from = models.CharField(max_length=60, blank=True)
    removed_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["kind", "title"]

    def __str__(self) -> str:
        return self.title
