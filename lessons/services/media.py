"""Keeping pictures and clips with a lesson, taking them out, and deleting what is due."""

import time
from collections.abc import Sequence
from datetime import date, timedelta
from pathlib import Path
from uuid import UUID

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone

from academy.consents import Rules, give_consent, rules
from academy.journal import journal
from academy.models import Coach, Consent, Student
from lessons.media import store
from lessons.media.allowed import GIVEN, Allowed, allowed_for, judge_rows
from lessons.media.types import Cleaned
from lessons.models import Attachment, Block, Lesson

from .once import USED

USUAL_DAYS = 180
UNDO_DAYS = 1
"""A picture that was taken out can be put back that long; then it is deleted."""
ORPHAN_SECONDS = 3600
"""A file without a row is a request that broke off, or a row that was erased; younger ones may be on their way."""


def say_yes(*, by: Coach, student: Student, day: date) -> None:
    """Note that an adult said yes to keeping pictures. Raises ValidationError for a junior."""
    if not allowed_for(student=student, day=day).keep:
        give_consent(by=by, student=student, item=Consent.Item.KEEPING, given_on=day)


def refuse_without_consent(*, student: Student) -> Allowed:
    """Return what allows a picture to be kept today. Raises ValidationError with the reason where nothing does."""
    allowed = allowed_for(student=student, day=timezone.localdate())
    if not allowed.keep or allowed.consent is None:
        raise ValidationError(allowed.reason)
    return allowed


def attach(
    *, by: Coach, lesson: Lesson, cleaned: Cleaned, block: Block, angle: str, phase: str, aids: Sequence[str],
    keep_days: int, key: UUID,
) -> Attachment:
    """Keep a cleaned file with a lesson; the same key again changes nothing.

    It is deleted after ``keep_days``, and never kept longer than the consent runs. Raises ValidationError without
    consent, and for a key that has kept a picture of another lesson.
    """
    consent = refuse_without_consent(student=lesson.student).consent
    kept = Attachment.objects.filter(key=key).first()
    if kept is not None and kept.lesson_id != lesson.pk:
        raise ValidationError(USED)
    if kept is not None:
        return kept
    row = Attachment(
        lesson=lesson, key=key, angle=angle, category=block.category, club_name=block.club_name, phase=phase,
        aids=list(aids), mime=cleaned.mime, size_bytes=len(cleaned.data), width_px=cleaned.width_px,
        height_px=cleaned.height_px, frame_rate=cleaned.frame_rate, consent=consent,
        delete_on=min(timezone.localdate() + timedelta(days=keep_days), consent.expires_on),
    )
    path = store.write(code=row.code, mime=row.mime, data=cleaned.data)
    try:
        with journal(by=by, student=lesson.student, lesson_code=lesson.code, sentence=_sentence(row)) as entry:
            entry.create(row)
    except BaseException:
        path.unlink(missing_ok=True)
        raise
    return row


def remove(*, by: Coach, attachment: Attachment) -> None:
    """Take a picture out of view; it can be put back until it is deleted a day later."""
    lesson = attachment.lesson
    sentence = f"{_sentence(attachment)}: taken out"
    with journal(by=by, student=lesson.student, lesson_code=lesson.code, sentence=sentence) as entry:
        entry.remove(attachment)


def delete_due(*, day: date | None = None) -> int:
    """Delete files and rows that are due and return how many: past their day, taken out, or no longer allowed.

    A withdrawal switches viewing off at once; the file goes a day later, so that a slip of the finger can be put
    right. Files without a row are deleted too. Two queries and one a row that goes.
    """
    today = day or timezone.localdate()
    rows = list(Attachment.objects.select_related("lesson__student").prefetch_related("lesson__student__consents"))
    by, gone = rules(), 0
    for row in rows:
        if _is_due(row, by, today):
            with transaction.atomic():
                row.delete()
                store.path_of(code=row.code, mime=row.mime).unlink(missing_ok=True)
            gone += 1
    return gone + _delete_orphans({row.code.hex for row in rows})


def _is_due(row: Attachment, by: Rules, today: date) -> bool:
    student, consents = row.lesson.student, row.lesson.student.consents.all()
    given = judge_rows(student=student, rows=consents, day=today, by=by).keeping.word == GIVEN
    just_withdrawn = any(one.item == Consent.Item.KEEPING and one.withdrawn_on == today for one in consents)
    taken_out = row.removed_at is not None and timezone.now() - row.removed_at > timedelta(days=UNDO_DAYS)
    return row.delete_on <= today or taken_out or not (given or just_withdrawn)


def _delete_orphans(known: set[str]) -> int:
    old = [path for code, path in store.every_file() if code not in known and _age(path) > ORPHAN_SECONDS]
    for path in old:
        path.unlink(missing_ok=True)
    return len(old)


def _age(path: Path) -> float:
    try:
        return time.time() - path.stat().st_mtime
    except FileNotFoundError:
        return 0.0


def _sentence(row: Attachment) -> str:
    what = "Clip" if row.is_clip else "Picture"
    return f"{what} kept: {row.get_angle_display().lower()}, {row.club_name}, {row.get_phase_display()}"
