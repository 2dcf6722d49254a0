"""Messages from the private page, and the coach's answers."""

import uuid

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone

from academy import health
from academy.consents import consent_allows
from academy.journal import journal
from academy.models import Coach, Consent, HealthFlag, Student
from academy.models.base import Source
from lessons.models import StudentMessage

PAIN_TEXT = "Pain was reported. What was said stands on the health page alone."
CALM_TEXT = "Says 0 to 2 of 10 on two days running: full swings are open again. The days stand on the health page."
DELETION_TEXT = "Asks for the record to be deleted."
ALWAYS = (StudentMessage.Kind.PAIN, StudentMessage.Kind.DELETION)
"""Kinds that no missing consent stops."""


def send_message(
    *, student: Student, key: uuid.UUID, kind: str, text: str, written_by: str = ""
) -> StudentMessage:
    """Store a question or a score, once for each key. Refused with the reason where messages are not allowed."""
    _check_allowed(student)
    return _store(student=student, key=key, kind=kind, text=text, written_by=written_by)


def tell_pain(
    *, student: Student, key: uuid.UUID, severity: int, area: str, is_new: bool, red_flag: bool, text: str = "",
    written_by: str = "",
) -> HealthFlag:
    """Store a health entry and tell the coach that there is one. Never refused: safety needs no consent."""
    with transaction.atomic():
        Student.objects.select_for_update().only("pk").get(pk=student.pk)
        if _is_something_else(key, student):
            key = uuid.uuid5(key, f"pain of {student.code}")
        if StudentMessage.objects.filter(key=key).exists():
            return HealthFlag.objects.filter(student=student).first()
        flag = health.report_pain(
            student=student, by=None, severity=severity, area=area, is_new=is_new, red_flag=red_flag, text=text,
            source=Source.STUDENT,
        )
        _store(
            student=student, key=key, kind=StudentMessage.Kind.PAIN, text=PAIN_TEXT, written_by=written_by
        )
    return flag


def tell_calm(*, student: Student, key: uuid.UUID, written_by: str = "") -> StudentMessage:
    """Tell the coach that two calm days have ended a stop, once for each health entry."""
    return _store(student=student, key=key, kind=StudentMessage.Kind.PAIN, text=CALM_TEXT, written_by=written_by)


def ask_deletion(*, student: Student, key: uuid.UUID, text: str = "", written_by: str = "") -> StudentMessage:
    """Pass a request to delete on to the coach. Nothing is erased by it."""
    said = f"{DELETION_TEXT} {text}".strip()
    return _store(
        student=student, key=key, kind=StudentMessage.Kind.DELETION, text=said, written_by=written_by
    )


def answer_message(*, by: Coach, message: StudentMessage, answer: str) -> StudentMessage:
    """Store the coach's answer; it appears on the private page, a junior's on the guardian's.

    Refused where messages are not allowed; pain and a request to delete are answered all the same.
    """
    if message.kind not in ALWAYS:
        _check_allowed(message.student)
    with journal(by=by, student=message.student, sentence="Message answered") as entry:
        entry.update(message, answer=answer, answered_at=timezone.now())
    return message


def _check_allowed(student: Student) -> None:
    allowed = consent_allows(student=student, item=Consent.Item.MESSAGING, day=timezone.localdate())
    if not allowed.allowed:
        raise ValidationError(allowed.reason)


def _is_something_else(key: uuid.UUID, student: Student) -> bool:
    taken = StudentMessage.objects.filter(key=key)
    return taken.exclude(student=student, kind=StudentMessage.Kind.PAIN).exists()


@transaction.atomic
def _store(*, student: Student, key: uuid.UUID, kind: str, text: str, written_by: str) -> StudentMessage:
    Student.objects.select_for_update().only("pk").get(pk=student.pk)
    stored = StudentMessage.objects.filter(key=key).first()
    if stored is not None:
        if stored.student_id != student.pk:
            raise ValidationError("This message belongs to another page.")
        return stored
    message = StudentMessage(
        student=student, key=key, kind=kind, text=text, sent_at=timezone.now(), written_by=written_by,
        source=Source.STUDENT,
    )
    with journal(by=None, student=student, sentence="Message from the private page") as entry:
        entry.create(message)
    return message
