"""How strong the pain was on a day: what two calm days running are counted from."""

from django.db import models
from django.db.models import Q

from .base import Recorded
from .student import Student


class PainReading(Recorded):
    """One answer to "how strong is it today, at its worst place?". Kept with health, apart from coaching."""

    student = models.ForeignKey(Student, on_delete=models.CASCADE, related_name="pain_readings")
    severity = models.PositiveSmallIntegerField(help_text="0 none to 10 worst, as the student says it.")
    said_on = models.DateField()

    class Meta:
        ordering = ["-said_on", "-pk"]
        constraints = [models.CheckConstraint(condition=Q(severity__lte=10), name="pain_reading_to_ten")]
