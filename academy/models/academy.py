"""The academy itself and the places where it teaches."""

import zoneinfo

from django.core.exceptions import ValidationError
from django.db import models

from .base import Recorded


class Units(models.TextChoices):
    YARDS = "yards", "Yards and miles per hour"
    METRES = "metres", "Metres and metres per second"


def check_timezone(name: str) -> None:
    """Refuse a name that the time-zone database does not know."""
    if name not in zoneinfo.available_timezones():
        raise ValidationError(f"“{name}” is not a known time zone; expected a name such as Europe/Dublin.")


class Academy(models.Model):
    """One row a database: the academy's name, place and house rules."""

    name = models.CharField(max_length=120)
    timezone = models.CharField(max_length=64, default="UTC", validators=[check_timezone])
    units = models.CharField(max_length=8, choices=Units.choices, default=Units.YARDS)
    language = models.CharField(max_length=12, default="en")
    emergency_number = models.CharField(max_length=20, default="112", help_text="Shown with every red flag.")
    defibrillator_place = models.CharField(max_length=200, blank=True)
    link_days = models.PositiveSmallIntegerField(default=180, help_text="How long a private link works.")
    adult_age = models.PositiveSmallIntegerField(default=18)
    is_demo = models.BooleanField(default=False, editable=False)
    house_rules = models.JSONField(default=dict, blank=True)
    """Settings that override the shipped priors and limits, by key; see metrics.change.priors."""

    class Meta:
        verbose_name_plural = "academies"
        constraints = [models.CheckConstraint(condition=models.Q(pk=1), name="academy_is_one_row")]

    def __str__(self) -> str:
        return self.name


class Venue(Recorded):
    """A place with its air: remembered so that the lesson header can be copied from last time."""

    name = models.CharField(max_length=80, unique=True)
    indoor = models.BooleanField(default=False)
    altitude_m = models.FloatField(null=True, blank=True)
    surface = models.CharField(max_length=10, default="mat")

    class Meta:
        ordering = ["name"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(altitude_m__isnull=True)
                | models.Q(altitude_m__gte=-430, altitude_m__lte=5000),
                name="venue_altitude_on_earth",
            )
        ]

    def __str__(self) -> str:
        return self.name
