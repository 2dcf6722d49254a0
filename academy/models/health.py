"""What a student said about pain or health. Kept apart from coaching notes; the assigned coach alone sees it."""

from django.db import models
from django.db.models import Q

from .base import Recorded
from .student import Student


class HealthFlag(Recorded):
    class Area(models.TextChoices):
        LOW_BACK = "low_back", "Low back"
        LEAD_WRIST = "lead_wrist", "Lead wrist or hand"
        TRAIL_WRIST = "trail_wrist", "Trail wrist or hand"
        ELBOW = "elbow", "Elbow"
        SHOULDER = "shoulder", "Shoulder"
        HIP = "hip", "Hip"
        KNEE = "knee", "Knee"
        NECK = "neck", "Neck"
        HEART = "heart", "Heart, blood pressure or breathing"
        DIZZINESS = "dizziness", "Dizziness"
        PREGNANCY = "pregnancy", "Pregnancy"
        OTHER = "other", "Other"

    student = models.ForeignKey(Student, on_delete=models.CASCADE, related_name="health_flags")
    area = models.CharField(max_length=12, choices=Area.choices)
    severity = models.PositiveSmallIntegerField(help_text="0 none to 10 worst, as the student says it.")
    is_new = models.BooleanField(default=False)
    red_flag = models.BooleanField(default=False)
    advice_seen = models.BooleanField(default=False)
    text = models.CharField(max_length=300, blank=True)
    reported_at = models.DateTimeField()
    cleared_at = models.DateTimeField(null=True, blank=True)
    cleared_by_clinician = models.BooleanField(default=False)

    class Meta:
        ordering = ["-reported_at"]
        constraints = [
            models.CheckConstraint(condition=Q(severity__lte=10), name="health_severity_to_ten"),
        ]

    @property
    def stops_long_game(self) -> bool:
        """Pain of 4 or more, new pain, or a red flag: no long game until cleared (usual caution)."""
        return self.cleared_at is None and (self.severity >= 4 or self.is_new or self.red_flag)

    @property
    def waits_for_a_word(self) -> bool:
        """No pain, and yet a clinician's word is wanted before full swings: an answer of the first visit."""
        return self.cleared_at is None and self.is_new and self.severity == 0 and not self.red_flag
