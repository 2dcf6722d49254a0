"""The second factor of a person who signs in: a code from their phone, and codes on paper for when it is lost."""

from django.db import models

from .base import Recorded
from .coach import Coach


class SecondFactor(Recorded):
    """One a person. The secret is sealed; it counts only once the person has shown a code made with it."""

    coach = models.OneToOneField(Coach, on_delete=models.CASCADE, related_name="second_factor")
    sealed_secret = models.CharField(max_length=255)
    confirmed_at = models.DateTimeField(null=True, blank=True)
    last_step = models.BigIntegerField(default=0)
    """The 30-second step of the newest code that was accepted; a code of this step or an earlier one is spent."""
    wrong_answers = models.PositiveSmallIntegerField(default=0)
    wrong_since = models.DateTimeField(null=True, blank=True)


class RecoveryCode(models.Model):
    """A code on paper, good once; only its keyed digest is kept."""

    factor = models.ForeignKey(SecondFactor, on_delete=models.CASCADE, related_name="recovery_codes")
    digest = models.CharField(max_length=64)
    used_at = models.DateTimeField(null=True, blank=True)
