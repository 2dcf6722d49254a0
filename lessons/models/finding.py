"""What the numbers point at, what the coach says to it, and the one change that follows."""

from django.db import models

from academy.models import Recorded

from .block import Block
from .lesson import Lesson


class Finding(Recorded):
    """A pattern as it was shown, kept with its evidence so that later rules do not rewrite the past."""

    class State(models.TextChoices):
        SUPPORTED = "supported", "Supported"
        HINT = "hint", "Hint"
        SILENT = "silent", "Silent"

    class Decision(models.TextChoices):
        OPEN = "", "Not decided"
        CONFIRMED = "confirmed", "Confirmed"
        OVERRULED = "overruled", "Overruled"

    lesson = models.ForeignKey(Lesson, on_delete=models.CASCADE, related_name="findings")
    block = models.ForeignKey(Block, null=True, blank=True, on_delete=models.CASCADE, related_name="findings")
    pattern = models.CharField(max_length=40)
    title = models.CharField(max_length=160)
    state = models.CharField(max_length=9, choices=State.choices)
    evidence = models.JSONField(default=dict, blank=True)
    """The finding as the rules gave it (metrics.rules, as_dict)."""
    belief = models.CharField(max_length=200, blank=True, help_text="What the student believed, before numbers.")
    decision = models.CharField(max_length=9, choices=Decision.choices, blank=True, default="")
    decision_reason = models.CharField(max_length=300, blank=True)
    removed_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["pk"]


class Prescription(Recorded):
    """The one change of the visit."""

    lesson = models.ForeignKey(Lesson, on_delete=models.CASCADE, related_name="prescriptions")
    finding = models.ForeignKey(Finding, null=True, blank=True, on_delete=models.SET_NULL)
    checkpoint = models.CharField(max_length=24, blank=True)
    change = models.CharField(max_length=200)
    cue = models.CharField(max_length=120, blank=True, help_text="In the student's own words.")
    stop_sign = models.CharField(max_length=200, blank=True, help_text="What shows that it has gone too far.")
    value_from = models.FloatField(null=True, blank=True)
    value_to = models.FloatField(null=True, blank=True)
    expected = models.JSONField(default=dict, blank=True)
    """Quantity -> expected change, in the quantity's unit."""
    removed_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["pk"]
