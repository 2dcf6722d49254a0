"""On which days a student practises, as they chose it, and what their calendar was last told."""

from django.core.exceptions import ValidationError
from django.db import models

from academy.models import Recorded, Student


class PracticeDays(Recorded):
    """One row a student. ``weekdays``: 0 Monday to 6 Sunday; ``at`` empty: some time of the day.

    ``told``: uid -> what the last calendar file said of it, with its sequence. No part of the journal: a sequence
    only goes forward, whatever is undone.
    """

    student = models.OneToOneField(Student, on_delete=models.CASCADE, related_name="practice_days")
    weekdays = models.JSONField(default=list, blank=True)
    at = models.TimeField(null=True, blank=True)
    told = models.JSONField(default=dict, blank=True)

    def __str__(self) -> str:
        return f"Practice days of {self.student}"

    def clean(self) -> None:
        days = self.weekdays
        if not isinstance(days, list) or any(day not in range(7) for day in days) or len(set(days)) != len(days):
            raise ValidationError({"weekdays": f"{days} was found; expected days from 0 (Monday) to 6, each once."})
