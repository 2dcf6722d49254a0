"""Balls that came by themselves: those that wait for a lesson, and how far the files of a folder were read."""

import uuid

from django.db import models
from django.utils import timezone

from academy.models import Recorded

from .batch import DataSource, FileSign
from .shot import Shot


class LiveBall(Recorded):
    """A ball that came while no lesson was open for it. It waits until it is assigned or discarded.

    ``numbers`` are in SI with the signs of its source (``sign``): which side is the slice side is only known once
    the ball belongs to a student. ``key`` is the sender's own, so that a ball sent twice waits once.
    """

    data_source = models.ForeignKey(DataSource, on_delete=models.CASCADE, related_name="live_balls")
    key = models.UUIDField(default=uuid.uuid4, unique=True)
    hit_at = models.DateTimeField(default=timezone.now)
    club_name = models.CharField(max_length=40, blank=True)
    category = models.CharField(max_length=16, blank=True, help_text="Empty where the club is not known here.")
    numbers = models.JSONField(default=dict, blank=True)
    calls = models.JSONField(default=dict, blank=True)
    sign = models.CharField(max_length=6, choices=FileSign.choices, default=FileSign.RIGHT)
    raw = models.TextField(blank=True, default="")
    shot = models.ForeignKey(Shot, null=True, blank=True, on_delete=models.SET_NULL, related_name="+")
    """The ball it became; empty while it waits."""
    removed_at = models.DateTimeField(null=True, blank=True)
    """When it was discarded."""

    erased_with = ("shot",)
    """Its raw row is the player's words and numbers: erased with them, see academy.erasure."""

    class Meta:
        ordering = ["hit_at", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(shot__isnull=True) | models.Q(removed_at__isnull=True),
                name="live_ball_is_assigned_or_discarded",
            )
        ]

    def __str__(self) -> str:
        return f"ball from {self.data_source}"


class WatchedFile(Recorded):
    """How far a file of a watched folder was read, so that a restart doubles nothing."""

    data_source = models.ForeignKey(DataSource, on_delete=models.CASCADE, related_name="watched_files")
    name = models.CharField(max_length=255)
    digest = models.CharField(
        max_length=64, help_text="Of the bytes read: a file that only grew still begins with them."
    )
    bytes_read = models.PositiveBigIntegerField(default=0)
    lines_read = models.PositiveIntegerField(default=0)
    read_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["name", "pk"]
        constraints = [
            models.UniqueConstraint(fields=["data_source", "name"], name="one_watched_file_a_name")
        ]

    def __str__(self) -> str:
        return self.name
