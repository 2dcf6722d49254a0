"""Storing a practice from the private page, once, however often it is sent."""

import uuid
from dataclasses import dataclass
from datetime import datetime

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone

from academy import health
from academy.journal import journal
from academy.models import HealthFlag, Student
from academy.models.base import Source
from lessons.models import DrillAssignment, FollowUp, PracticeEntry

from .messages import tell_pain
from .pain_days import say_pain_today


@dataclass(frozen=True, kw_only=True)
class Logged:
    """What became of a practice: the row, whether it is new, and the health entry it led to."""

    entry: PracticeEntry
    is_new: bool
    flag: HealthFlag | None = None


@transaction.atomic
def log_practice(
    *, student: Student, key: uuid.UUID, practised_at: datetime, drill: uuid.UUID | None = None,
    minutes: int | None = None, balls: int | None = None, hits: int | None = None, pain: int | None = None,
    is_new: bool = False, area: str = "", red_flag: bool = False, fun: int | None = None, note: str = "",
    written_by: str = "",
) -> Logged:
    """Store a practice. Pain of 4 or more, new pain or a red flag also becomes a health entry and a message.

    A key that is already stored returns the stored practice unchanged.
    """
    # Take turns per student, so that two deliveries of one queue never race past each other.
    Student.objects.select_for_update().only("pk").get(pk=student.pk)
    stored = PracticeEntry.objects.filter(key=key).first()
    if stored is not None:
        if stored.student_id != student.pk:
            raise ValidationError("This practice belongs to another page.")
        return Logged(entry=stored, is_new=False)
    entry = PracticeEntry(
        student=student, key=key, practised_at=practised_at, minutes=minutes, balls=balls, hits=hits, pain=pain,
        fun=fun, note=note, source=Source.STUDENT, assignment=_assignment(student, drill),
    )
    with journal(by=None, student=student, sentence="Practice ticked on the private page") as change:
        change.create(entry)
    flag = None
    if pain is not None:
        say_pain_today(
            student=student, severity=pain, day=timezone.localdate(practised_at), written_by=written_by)
    if pain is not None and health.stops_long_game(severity=pain, is_new=is_new, red_flag=red_flag):
        flag = tell_pain(
            student=student, key=uuid.uuid5(key, "pain"), severity=pain, area=area, is_new=is_new,
            red_flag=red_flag, text=note, written_by=written_by,
        )
    return Logged(entry=entry, is_new=True, flag=flag)


def note_opened(*, student: Student, advice_is_new: bool) -> None:
    """Remember that the page was read: what was sent counts as opened now. One query, two where there was new advice
    on it; no pixel, no third party."""
    now = timezone.now()
    FollowUp.objects.filter(lesson__student=student, opened_at__isnull=True, sent_at__lte=now).update(opened_at=now)
    if advice_is_new:
        health.note_advice_seen(student=student)


def _assignment(student: Student, code: uuid.UUID | None) -> DrillAssignment | None:
    if code is None:
        return None
    found = DrillAssignment.objects.filter(student=student, code=code).first()
    if found is None:
        raise ValidationError("This drill is not one of yours.")
    return found
