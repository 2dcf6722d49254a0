"""A picture or a short clip that is kept with a lesson: one half of a before-and-after pair."""

import uuid

from django.db import models

from academy.models import Consent, Recorded
from academy.models.club import CATEGORY_CHOICES

from .block import AIDS
from .lesson import Lesson
from .setup import SetupObservation


class Attachment(Recorded):
    """What is known of a kept file; the file itself lies in the media folder under this row's code."""

    class Angle(models.TextChoices):
        FACE_ON = "face_on", "Face-on"
        DOWN_LINE = "down_line", "Down the line"
        ABOVE = "above", "From above"
        OTHER = "other", "Another angle"

    lesson = models.ForeignKey(Lesson, on_delete=models.CASCADE, related_name="attachments")
    key = models.UUIDField(unique=True, default=uuid.uuid4, editable=False, help_text="So that it is stored once.")
    angle = models.CharField(max_length=9, choices=Angle.choices)
    category = models.CharField(max_length=16, choices=CATEGORY_CHOICES)
    club_name = models.CharField(max_length=40)
    phase = models.CharField(max_length=6, choices=SetupObservation.Phase.choices)
    aids = models.JSONField(default=list, blank=True)
    mime = models.CharField(max_length=20)
    size_bytes = models.PositiveIntegerField()
    width_px = models.PositiveIntegerField()
    height_px = models.PositiveIntegerField()
    frame_rate = models.FloatField(null=True, blank=True)
    consent = models.ForeignKey(Consent, null=True, on_delete=models.SET_NULL, related_name="+")
    delete_on = models.DateField(db_index=True)
    removed_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["pk"]

    @property
    def is_clip(self) -> bool:
        return self.mime.startswith("video/")

    @property
    def aid_labels(self) -> list[str]:
        return [AIDS.get(aid, aid) for aid in self.aids]
