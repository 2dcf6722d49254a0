"""A short-game or putting test that was run: one row a ball, the design named by its slug in metrics.shortgame."""

import uuid

from django.db import models
from django.db.models import Q
from django.utils import timezone

from academy.models import Recorded, Student

from .lesson import Lesson
from .shot import Contact


class SkillTest(Recorded):
    """One run of a test. ``seed`` fixes the random order of its targets, so that a reload shows the same next one."""

    student = models.ForeignKey(Student, on_delete=models.CASCADE, related_name="skill_tests")
    lesson = models.ForeignKey(Lesson, null=True, blank=True, on_delete=models.SET_NULL, related_name="skill_tests")
    battery = models.ForeignKey(
        "lessons.Battery", null=True, blank=True, on_delete=models.SET_NULL, related_name="skill_tests"
    )
    design = models.CharField(max_length=24)
    begun_at = models.DateTimeField(default=timezone.now)
    conditions = models.CharField(max_length=120, blank=True, help_text="Green, slope, lie, wind.")
    seed = models.PositiveIntegerField()
    removed_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["begun_at", "pk"]


class SkillBall(models.Model):
    """One ball of a test: to which target, and what came of it. Which columns are filled, the design says."""

    test = models.ForeignKey(SkillTest, on_delete=models.CASCADE, related_name="balls")
    number = models.PositiveSmallIntegerField()
    key = models.UUIDField(default=uuid.uuid4, unique=True)
    """Made where the ball is entered: sent twice, stored once."""
    target_m = models.FloatField()
    done = models.BooleanField(null=True, blank=True, help_text="Holed, out and on the green, up and down.")
    value_m = models.FloatField(null=True, blank=True, help_text="Carry, distance left, or leave: + past the hole.")
    side = models.SmallIntegerField(null=True, blank=True, help_text="−1 hook side, 0 through the gate, +1 slice side")
    contact = models.CharField(max_length=5, choices=Contact.choices, blank=True, default="")
    created_at = models.DateTimeField(default=timezone.now, editable=False)
    removed_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["number", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(side__isnull=True) | Q(side__in=[-1, 0, 1]), name="skill_side_known"
            ),
            models.CheckConstraint(
                condition=Q(done__isnull=False) | Q(value_m__isnull=False) | Q(side__isnull=False),
                name="skill_ball_has_a_result",
            ),
        ]
