"""The same setup built several times without a ball: a series, and each number of each build."""

from django.db import models
from django.db.models import Q

from academy.models import Recorded
from academy.models.club import CATEGORY_CHOICES
from metrics.checkpoints import CHECKPOINTS

from .lesson import Lesson
from .setup import CHECKPOINT_CHOICES, SetupObservation

MOST_SETUPS = 30


class SetupSeries(Recorded):
    """Setups of one club under one state of aids, one after the other, each built anew."""

    lesson = models.ForeignKey(Lesson, on_delete=models.CASCADE, related_name="setup_series")
    category = models.CharField(max_length=16, choices=CATEGORY_CHOICES)
    club_name = models.CharField(max_length=40)
    aids = models.JSONField(default=list, blank=True)
    removed_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["pk"]


class SetupLook(Recorded):
    """One number of one of the builds, in the checkpoint's own unit and signs."""

    series = models.ForeignKey(SetupSeries, on_delete=models.CASCADE, related_name="looks")
    number = models.PositiveSmallIntegerField()
    checkpoint = models.CharField(max_length=24, choices=CHECKPOINT_CHOICES)
    value = models.FloatField()
    uncertainty = models.FloatField(null=True, blank=True)
    entered = models.CharField(max_length=40, blank=True)
    method = models.CharField(
        max_length=5, choices=SetupObservation.Method.choices, default=SetupObservation.Method.EYE)
    removed_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["number", "pk"]
        constraints = [
            models.CheckConstraint(condition=Q(checkpoint__in=list(CHECKPOINTS)), name="look_checkpoint_known"),
            models.CheckConstraint(condition=Q(number__gte=1, number__lte=MOST_SETUPS), name="look_number_possible"),
            models.UniqueConstraint(
                fields=["series", "number", "checkpoint"], condition=Q(removed_at__isnull=True),
                name="one_look_a_setup_and_checkpoint"),
        ]
