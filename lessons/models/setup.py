"""What the setup looked like: one number of one checkpoint at one moment."""

from django.db import models

from academy.models import Recorded
from academy.models.club import CATEGORY_CHOICES
from metrics.checkpoints import CHECKPOINTS

from .lesson import Lesson

CHECKPOINT_CHOICES = [(key, checkpoint.label) for key, checkpoint in CHECKPOINTS.items()]


class SetupObservation(Recorded):
    """A value in the checkpoint's own unit and signs; ``entered`` keeps what was typed."""

    class Method(models.TextChoices):
        EYE = "eye", "by eye"
        TAPE = "tape", "with a tape"
        PHOTO = "photo", "from a photo"

    class Phase(models.TextChoices):
        BEFORE = "before", "before"
        AFTER = "after", "after"

    lesson = models.ForeignKey(Lesson, on_delete=models.CASCADE, related_name="observations")
    category = models.CharField(max_length=16, choices=CATEGORY_CHOICES)
    checkpoint = models.CharField(max_length=24, choices=CHECKPOINT_CHOICES)
    phase = models.CharField(max_length=6, choices=Phase.choices, default=Phase.BEFORE)
    value = models.FloatField()
    uncertainty = models.FloatField(null=True, blank=True)
    entered = models.CharField(max_length=40, blank=True)
    method = models.CharField(max_length=5, choices=Method.choices, default=Method.EYE)
    camera = models.CharField(max_length=80, blank=True, default="", help_text="Where it stood, for an angle.")
    removed_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(checkpoint__in=list(CHECKPOINTS)), name="observation_checkpoint_known"
            )
        ]
