"""How strong the pain is today: kept for its day, and the coach is told when two calm days have ended a stop."""

import uuid
from dataclasses import dataclass
from datetime import date

from django.db import transaction

from academy.models import Student
from academy.models.base import Source
from academy.pain_days import CALM_DAYS, calm_days_of, note_pain_day, stopping_flags

from .messages import tell_calm


@dataclass(frozen=True, kw_only=True)
class PainDay:
    """What an answer led to: whether it ended the stop, and how many calm days are still to come where it did not."""

    is_over: bool
    days_to_go: int

    @property
    def sentence(self) -> str:
        """Say it to the student."""
        if self.is_over:
            return "Two calm days running. Full swings are open again: putts and chips first, then half swings."
        if self.days_to_go == 1:
            return "Noted: one calm day. Say it again tomorrow. Full swings stay off until then."
        return "Noted. Full swings stay off until it is 0 to 2 on two days running, or a clinician clears you."


@transaction.atomic
def say_pain_today(*, student: Student, severity: int, day: date, written_by: str = "") -> PainDay:
    """Store what the student says about a day. Health entries that it ends are closed, and the coach is told once."""
    Student.objects.select_for_update().only("pk").get(pk=student.pk)
    over = note_pain_day(student=student, by=None, severity=severity, day=day, source=Source.STUDENT)
    for flag in over:
        tell_calm(student=student, key=uuid.uuid5(flag.code, "calm"), written_by=written_by)
    left = stopping_flags(student=student)
    run = min((calm_days_of(flag) for flag in left), default=CALM_DAYS)
    return PainDay(is_over=bool(over) and not left, days_to_go=max(0, CALM_DAYS - run))
