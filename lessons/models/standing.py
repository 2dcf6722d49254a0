"""Where a student stands, kept ready so that the roster reads one row a student instead of every lesson."""

from django.db import models

from academy.models import Student


class Standing(models.Model):
    """Derived from the student's lessons by lessons.services.standing; never edited, always recomputable."""

    student = models.OneToOneField(Student, on_delete=models.CASCADE, related_name="standing")
    visits = models.PositiveIntegerField(default=0)
    first_visit_at = models.DateTimeField(null=True)
    last_visit_at = models.DateTimeField(null=True, db_index=True)
    agreed_date = models.DateField(null=True)
    """The date agreed at the last visit for the next one."""
    median_gap_days = models.FloatField(null=True)
    return_visits = models.PositiveIntegerField(default=0)
    first_ten_visits = models.PositiveIntegerField(default=0)
    """Return visits that began with a first-ten block."""
    verdict = models.CharField(max_length=20, blank=True, default="")
    verdict_sentence = models.CharField(max_length=400, blank=True, default="")
    student_sentence = models.CharField(max_length=400, blank=True, default="")
    """The same in the student's words; what the private page shows."""
    quantity = models.CharField(max_length=40, blank=True, default="")
    trend = models.JSONField(default=list)
    """First-ten means of the quantity in work, oldest first, in stored units."""
    window = models.JSONField(default=list)
    refreshed_at = models.DateTimeField(null=True)

    def __str__(self) -> str:
        return f"standing of {self.student_id}"
