"""Private links: what is kept of one is a look-up prefix and a keyed digest, never the link."""

from django.db import models

from .base import Recorded
from .consent import Guardian
from .student import Student


class ShareLink(Recorded):
    """A private, expiring, revocable, read-only key to one student's page."""

    student = models.ForeignKey(Student, on_delete=models.CASCADE, related_name="links")
    guardian = models.ForeignKey(Guardian, null=True, blank=True, on_delete=models.CASCADE)
    prefix = models.CharField(max_length=8, unique=True)
    digest = models.CharField(max_length=64)
    expires_at = models.DateTimeField()
    revoked_at = models.DateTimeField(null=True, blank=True)
    first_seen_at = models.DateTimeField(null=True, blank=True)
    last_seen_at = models.DateTimeField(null=True, blank=True)
    second_factor_digest = models.CharField(max_length=64, blank=True)
    wrong_answers = models.PositiveSmallIntegerField(default=0)
    wrong_since = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-created_at"]

    def works_at(self, moment) -> bool:
        return self.revoked_at is None and moment < self.expires_at
