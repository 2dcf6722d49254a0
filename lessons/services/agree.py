"""Finishing a lesson: what was agreed, the note as it was given, the private link, the student's standing."""

import uuid
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone

from academy import share
from academy.journal import journal
from academy.models import Coach, Guardian, ShareLink
from lessons.models import FollowUp, Lesson

from .findings import keep_open_findings
from .lessons import change_lesson, finish_lesson
from .once import made_with
from .standing import refresh_standing

DOUBLE_CLICK = timedelta(minutes=2)


@dataclass(frozen=True, kw_only=True)
class Finished:
    """The closed lesson. ``token`` is shown once; ``problem`` says why there is no link where one was wanted."""

    lesson: Lesson
    link: ShareLink | None
    token: str
    problem: str = ""


@transaction.atomic
def finish_visit(
    *, by: Coach, lesson: Lesson, key: uuid.UUID, next_date: date | None, next_measure: str, student_note: str,
    private_note: str, link: bool, guardian: Guardian | None = None, reflection: Mapping[str, str] | None = None,
) -> Finished:
    """Close the lesson with what was agreed, keep the note as it was given, and make a private link.

    The same key again is a double click: one note is kept, and the link of the first click, which nobody saw, ends.
    A link that may not be made does not keep the lesson open. It opens the whole record, health with it, so only the
    student's own coach gets one to see. ValidationError for a key of another lesson.
    """
    Lesson.objects.select_for_update().only("pk").get(pk=lesson.pk)
    again = made_with(key, rows=FollowUp.objects.all(), lesson_id=lesson.pk)
    change_lesson(by=by, lesson=lesson, sentence="Notes written", student_note=student_note,
                  private_note=private_note, **(reflection or {}))
    finish_lesson(by=by, lesson=lesson, next_date=next_date, next_measure=next_measure)
    keep_open_findings(by=by, lesson=lesson)
    if again is None:
        _keep_note(by, lesson, key)
    else:
        _end_unseen(lesson, again, guardian)
    made, token, problem = _link(by, lesson, guardian) if link else (None, "", "")
    refresh_standing(student=lesson.student)
    return Finished(lesson=lesson, link=made, token=token, problem=problem)


def _keep_note(by: Coach, lesson: Lesson, key: uuid.UUID) -> None:
    row = FollowUp(code=key, lesson=lesson, channel=FollowUp.Channel.LINK, text=lesson.student_note,
                   sent_at=timezone.now())
    with journal(by=by, student=lesson.student, lesson_code=lesson.code, sentence="Note given") as entry:
        entry.create(row)


def _end_unseen(lesson: Lesson, sent: FollowUp, guardian: Guardian | None) -> None:
    rows = ShareLink.objects.filter(
        student=lesson.student, guardian=guardian, first_seen_at__isnull=True, revoked_at__isnull=True,
        created_at__gte=sent.sent_at, created_at__lte=sent.sent_at + DOUBLE_CLICK,
    )
    for row in rows:
        share.revoke_link(link=row)


def _link(by: Coach, lesson: Lesson, guardian: Guardian | None) -> tuple[ShareLink | None, str, str]:
    if lesson.student.coach_id != by.pk:
        return None, "", f"The private link is for {lesson.student.coach} to give; the sheet can be sent all the same."
    try:
        link, token = share.issue_link(student=lesson.student, by=by, guardian=guardian)
    except ValidationError as error:
        return None, "", " ".join(error.messages)
    return link, token, ""
