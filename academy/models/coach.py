"""Who signs in: coaches, owners, welfare leads."""

import uuid
from typing import Any

from django.contrib.auth.models import AbstractUser
from django.db import models
from django.utils.functional import cached_property

from .academy import Units
from .base import Recorded


class Coach(AbstractUser):
    """A person of the academy's staff. One person may hold several roles."""

    code = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    is_coach = models.BooleanField(default=True)
    is_owner = models.BooleanField(default=False)
    is_welfare_lead = models.BooleanField(default=False)
    units = models.CharField(max_length=8, choices=Units.choices, blank=True)

    @cached_property
    def records_read(self) -> dict[int, Any]:
        """Students whose records this person was handed in this request, by row number; see academy.reading."""
        return {}

    def __str__(self) -> str:
        return self.get_full_name() or self.username


class EntryLink(Recorded):
    """A one-time local sign-in, made by a command on the machine itself; only its digest is kept."""

    coach = models.ForeignKey(Coach, on_delete=models.CASCADE)
    digest = models.CharField(max_length=64, unique=True)
    expires_at = models.DateTimeField()
    used_at = models.DateTimeField(null=True, blank=True)
