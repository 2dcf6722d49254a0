"""A ball that was hit. One column for each quantity in metrics.fields, stored player-relative and in SI."""

import uuid

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils import timezone

from academy.models.base import Source
from metrics.fields import FIELDS

from .block import Block


class Contact(models.TextChoices):
    """What the contact looked or sounded like."""

    CLEAN = "clean", "Clean"
    FAT = "fat", "Fat"
    THIN = "thin", "Thin"
    TOP = "top", "Topped"
    SKY = "sky", "Sky"
    HEEL = "heel", "Heel"
    TOE = "toe", "Toe"
    SHANK = "shank", "Shank"


class CarryProvenance(models.TextChoices):
    """How a carry came about; see metrics.flight.normalise."""

    UNKNOWN = "", "Not stated"
    MEASURED = "measured", "Measured"
    COMPUTED = "computed", "Computed by the device"
    NORMALISED = "normalised", "Already at the device's reference"


class ShotQuerySet(models.QuerySet):
    def present(self) -> "ShotQuerySet":
        """Return the balls that were not taken back by an undo."""
        return self.filter(removed_at__isnull=True)


class Shot(models.Model):
    """A ball: its numbers, what was called, the row it came from. Tagged or taken out of view, never deleted."""

    block = models.ForeignKey(Block, on_delete=models.CASCADE, related_name="shots")
    number = models.PositiveIntegerField()
    key = models.UUIDField(default=uuid.uuid4, unique=True)
    """Made where the ball is entered: sent twice, stored once."""
    hit_at = models.DateTimeField(default=timezone.now)
    called_start = models.SmallIntegerField(null=True, blank=True, help_text="−1 hook side, 0, +1 slice side")
    called_curve = models.SmallIntegerField(null=True, blank=True, help_text="−2 hook … 0 … +2 slice")
    called_height = models.SmallIntegerField(null=True, blank=True, help_text="−1 low, 0, +1 high")
    contact = models.CharField(max_length=5, choices=Contact.choices, blank=True, default="")
    is_mishit = models.BooleanField(default=False)
    excluded_reason = models.CharField(max_length=120, blank=True, default="")
    carry_provenance = models.CharField(
        max_length=10, choices=CarryProvenance.choices, blank=True, default=""
    )
    raw = models.TextField(blank=True, default="", help_text="The row as it came.")
    batch = models.ForeignKey(
        "lessons.ImportBatch", null=True, blank=True, on_delete=models.PROTECT, related_name="shots"
    )
    source = models.CharField(max_length=8, choices=Source.choices, default=Source.TYPED)
    created_at = models.DateTimeField(default=timezone.now, editable=False)
    created_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.SET_NULL, related_name="+"
    )
    removed_at = models.DateTimeField(null=True, blank=True)

    objects = ShotQuerySet.as_manager()

    class Meta:
        ordering = ["number", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(called_start__isnull=True) | Q(called_start__in=[-1, 0, 1]),
                name="shot_called_start_known",
            ),
            models.CheckConstraint(
                condition=Q(called_curve__isnull=True) | Q(called_curve__in=[-2, -1, 0, 1, 2]),
                name="shot_called_curve_known",
            ),
            models.CheckConstraint(
                condition=Q(called_height__isnull=True) | Q(called_height__in=[-1, 0, 1]),
                name="shot_called_height_known",
            ),
        ]

    def __str__(self) -> str:
        return f"ball {self.number}"


for _key in FIELDS:
    # From the registry, so that a new quantity cannot be forgotten here; the migration names each column.
    Shot.add_to_class(_key, models.FloatField(null=True, blank=True))
