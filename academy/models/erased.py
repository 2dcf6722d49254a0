"""What remains of an erased person: that it was done. And who read what they answer for. Codes only, no names."""

from django.conf import settings
from django.db import models

from .base import Recorded


class Erasure(Recorded):
    """One person erased: their code, how much went, and until when older backups may still hold them."""

    student_code = models.UUIDField(unique=True)
    rows = models.PositiveIntegerField()
    files = models.PositiveIntegerField()
    backups_until = models.DateField()

    class Meta:
        ordering = ["-pk"]


class Reading(models.Model):
    """That somebody read a junior's record or health data, or took an export along: once a day, person and kind."""

    class Kind(models.TextChoices):
        JUNIOR = "junior", "A junior’s record"
        HEALTH = "health", "Health"
        EXPORT = "export", "Export"

    day = models.DateField(db_index=True)
    reader = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL, related_name="+",
        help_text="Empty where it was a private link.",
    )
    student_code = models.UUIDField(null=True, help_text="Empty for an export of the whole academy.")
    kind = models.CharField(max_length=6, choices=Kind.choices)
    first_at = models.DateTimeField()

    class Meta:
        ordering = ["-pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["day", "reader", "student_code", "kind"], name="one_reading_a_day", nulls_distinct=False
            )
        ]
