"""A shot decided and played in an on-course lesson: the decision counts as much as the result."""

from django.db import models
from django.db.models import Q

from academy.models import Recorded

from .lesson import Lesson


class CourseShot(Recorded):
    """Lie, club taken against club advised, aim, commitment, result and what a penalty came from."""

    class Lie(models.TextChoices):
        TEE = "tee", "Tee"
        FAIRWAY = "fairway", "Fairway"
        ROUGH = "rough", "Rough"
        SAND = "sand", "Sand"
        SLOPE = "slope", "Slope"
        FRINGE = "fringe", "Fringe"
        GREEN = "green", "Green"
        TROUBLE = "trouble", "Trees or trouble"

    class Result(models.TextChoices):
        AS_MEANT = "as_meant", "As meant"
        PLAYABLE = "playable", "Playable"
        TROUBLE = "trouble", "In trouble"
        PENALTY = "penalty", "Penalty"

    class Cause(models.TextChoices):
        NONE = "", "No penalty"
        CLUB = "club", "Club choice"
        AIM = "aim", "Aim"
        STRIKE = "strike", "Strike"
        DECISION = "decision", "Risk taken"
        RULE = "rule", "Rule not known"

    lesson = models.ForeignKey(Lesson, on_delete=models.CASCADE, related_name="course_shots")
    hole = models.PositiveSmallIntegerField()
    number = models.PositiveSmallIntegerField()
    key = models.UUIDField(unique=True)
    lie = models.CharField(max_length=8, choices=Lie.choices)
    club = models.CharField(max_length=40)
    club_advised = models.CharField(max_length=40, blank=True)
    aim = models.CharField(max_length=80, blank=True)
    committed = models.BooleanField(default=True)
    result = models.CharField(max_length=8, choices=Result.choices)
    cause = models.CharField(max_length=8, choices=Cause.choices, blank=True, default="")
    half_a_shot = models.BooleanField(default=False, help_text="Another choice would have saved half a shot.")
    removed_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["hole", "number", "pk"]
        constraints = [models.CheckConstraint(condition=Q(hole__gte=1, hole__lte=18), name="course_hole_exists")]
