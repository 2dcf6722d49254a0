"""What every row carries: a code for addresses, who wrote it, when, and from where."""

import uuid

from django.conf import settings
from django.db import models
from django.utils import timezone


class Source(models.TextChoices):
    """Where a row came from."""

    TYPED = "typed", "typed"
    CALLED = "called", "called by eye"
    FILE = "file", "from a file"
    DEVICE = "device", "from a device"
    STUDENT = "student", "from the student's page"
    DEMO = "demo", "invented for the demo"
    SYSTEM = "system", "by the program"


class Recorded(models.Model):
    """Base of every record. ``code`` stands in addresses; row numbers never leave the database."""

    code = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    created_at = models.DateTimeField(default=timezone.now, editable=False)
    created_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.SET_NULL, related_name="+"
    )
    source = models.CharField(max_length=8, choices=Source.choices, default=Source.TYPED)

    class Meta:
        abstract = True
