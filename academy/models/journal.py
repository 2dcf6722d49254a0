"""The journal: every change with who, when and what, in a form that can be undone."""

from django.db import models

from .base import Recorded
from .student import Student


class Change(Recorded):
    """One thing that one person did, as a list of row operations with the values before and after."""

    student = models.ForeignKey(Student, null=True, blank=True, on_delete=models.CASCADE, related_name="changes")
    lesson_code = models.UUIDField(null=True, blank=True, db_index=True)
    sentence = models.CharField(max_length=300)
    operations = models.JSONField(default=list)
    undone_at = models.DateTimeField(null=True, blank=True)
    undone_by = models.ForeignKey("academy.Coach", null=True, blank=True, on_delete=models.SET_NULL, related_name="+")

    class Meta:
        ordering = ["-pk"]
        indexes = [
            models.Index(fields=["lesson_code", "-id"], name="change_by_lesson"),
            models.Index(fields=["student", "undone_at"], name="change_by_student"),
        ]

    def __str__(self) -> str:
        return self.sentence
