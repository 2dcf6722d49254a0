"""What was sent after a lesson, whether it was opened, and what came back."""

from django.db import models

from academy.models import Recorded, Student

from .lesson import Lesson


class FollowUp(Recorded):
    """One lesson note given to the student: the text as it was, how it went out, when it was opened."""

    class Channel(models.TextChoices):
        LINK = "link", "Private link shown"
        COPY = "copy", "Text copied"
        MAIL = "mail", "Mail"

    lesson = models.ForeignKey(Lesson, on_delete=models.CASCADE, related_name="followups")
    channel = models.CharField(max_length=5, choices=Channel.choices)
    subject = models.CharField(max_length=200, blank=True, default="")
    text = models.TextField(blank=True)
    sent_to = models.JSONField(default=list, blank=True)
    """Who got it, as [{"name": …, "address": …, "copy": bool}]; empty where nothing was mailed."""
    sent_at = models.DateTimeField()
    opened_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-sent_at"]


class StudentMessage(Recorded):
    """What came from the private page. A pain report says only that there is one: the rest is a health flag."""

    class Kind(models.TextChoices):
        QUESTION = "question", "Question"
        SCORE = "score", "Score"
        PAIN = "pain", "Pain"
        DELETION = "deletion", "Request to delete"

    student = models.ForeignKey(Student, on_delete=models.CASCADE, related_name="messages")
    key = models.UUIDField(unique=True)
    kind = models.CharField(max_length=8, choices=Kind.choices, default=Kind.QUESTION)
    text = models.CharField(max_length=1000)
    written_by = models.CharField(max_length=120, blank=True, help_text="The guardian, where one wrote.")
    sent_at = models.DateTimeField()
    answered_at = models.DateTimeField(null=True, blank=True)
    answer = models.CharField(max_length=1000, blank=True)

    class Meta:
        ordering = ["-sent_at"]
