"""A worry about a child's welfare. The welfare lead reads it; coaches and owners do not."""

from django.db import models

from .base import Recorded
from .student import Student


class Concern(Recorded):
    """What somebody on the private page is worried about, in their words, and what became of it."""

    student = models.ForeignKey(Student, on_delete=models.CASCADE, related_name="concerns")
    key = models.UUIDField(unique=True)
    text = models.CharField(max_length=2000)
    written_by = models.CharField(max_length=120, blank=True, help_text="The guardian, where one wrote.")
    sent_at = models.DateTimeField()
    closed_at = models.DateTimeField(null=True, blank=True)
    outcome = models.CharField(max_length=500, blank=True, help_text="What was done, and who was told.")

    class Meta:
        ordering = ["-sent_at"]
