"""Two calm days running: how a stop because of pain ends by itself.

The rule is duty-of-care wording in common use, without a source of its own: full swings stay off until the pain is
0 to 2 of 10 on two days running, or a clinician clears it. An emergency sign is cleared by a clinician only. Every
word about pain counts for its day, the worst one of a day for that day.
"""

from collections.abc import Iterable
from datetime import date, timedelta

from django.utils import timezone

from .journal import journal
from .models import Coach, HealthFlag, PainReading, Student
from .models.base import Source

CALM_AT_MOST = 2
CALM_DAYS = 2


def calm_days(*, readings: Iterable[tuple[date, int]], after: date) -> int:
    """Return how many days running, up to the last one with a reading, were 0 to 2; days up to ``after`` do not count.

    A day without a reading breaks the run: nobody has said how it was.
    """
    worst: dict[date, int] = {}
    for day, severity in readings:
        if day > after:
            worst[day] = max(severity, worst.get(day, 0))
    day, run = max(worst, default=after), 0
    while worst.get(day, CALM_AT_MOST + 1) <= CALM_AT_MOST:
        run, day = run + 1, day - timedelta(days=1)
    return run


def note_pain_day(
    *, student: Student, by: Coach | None, severity: int, day: date, source: str = Source.TYPED
) -> list[HealthFlag]:
    """Store how strong the pain was on a day at its worst place; return the entries that two calm days end.

    Where no entry stops the long game there is nothing to count, and nothing is stored.
    """
    stopping = stopping_flags(student=student)
    if not stopping:
        return []
    with journal(by=by, student=student, sentence="Asked: how the body is") as entry:
        entry.create(PainReading(student=student, severity=severity, said_on=day, source=source))
        over = [flag for flag in stopping if ends_by_itself(flag) and calm_days_of(flag) >= CALM_DAYS]
        for flag in over:
            entry.update(flag, cleared_at=timezone.now())
    return over


def ends_by_itself(flag: HealthFlag) -> bool:
    """Return whether calm days can end an entry; an emergency sign, or an answer that asks for a clinician, cannot."""
    return not flag.red_flag and not flag.waits_for_a_word


def calm_days_of(flag: HealthFlag) -> int:
    """Return the calm days running since an entry: from the daily answers and from later entries of the same place.
    Two queries."""
    said = timezone.localdate(flag.reported_at)
    later = HealthFlag.objects.filter(student=flag.student_id, area=flag.area).values_list("reported_at", "severity")
    days = PainReading.objects.filter(student=flag.student_id, said_on__gt=said).values_list("said_on", "severity")
    again = [(timezone.localdate(moment), severity) for moment, severity in later]
    return calm_days(readings=[*days, *again], after=said)


def stopping_flags(*, student: Student) -> list[HealthFlag]:
    """Return the open entries that stop the long game. One query."""
    rows = HealthFlag.objects.filter(student=student, cleared_at__isnull=True)
    return [flag for flag in rows if flag.stops_long_game]
