"""A first visit or a repeated test battery: what was asked, looked at and measured, over one visit or two."""

from django.db import models

from academy.models import Recorded, Student

from .lesson import Lesson


class Battery(Recorded):
    """One battery. Answers about health are the assigned coach's alone and leave no shared archive."""

    student = models.ForeignKey(Student, on_delete=models.CASCADE, related_name="batteries")
    begun_on = models.DateField()
    finished_on = models.DateField(null=True, blank=True)
    lesson = models.ForeignKey(Lesson, null=True, blank=True, on_delete=models.SET_NULL, related_name="+")
    second_lesson = models.ForeignKey(Lesson, null=True, blank=True, on_delete=models.SET_NULL, related_name="+")
    """Where it was split over two visits."""
    asked = models.JSONField(default=dict, blank=True)
    """Question key -> answer, of metrics.plans.battery; health questions apart in ``health``."""
    health = models.JSONField(default=dict, blank=True)
    looked = models.JSONField(default=dict, blank=True)
    """Look key -> easy, limited or pain. No degrees, no diagnosis."""
    removed_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["begun_on", "pk"]
        verbose_name_plural = "batteries"

    def __str__(self) -> str:
        return f"battery of {self.begun_on}"
