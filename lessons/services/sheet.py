"""Giving the lesson sheet away: by the academy's own mail server, or as text that the coach copied.

What left the house is stored as it was, and to whom. It is not in the journal: a mail cannot be taken back, so
neither can the note that it was sent.
"""

import uuid
from collections.abc import Callable, Sequence
from typing import Any

from django.core.exceptions import ValidationError
from django.core.mail import EmailMultiAlternatives, get_connection
from django.db import transaction
from django.template.loader import render_to_string
from django.utils import timezone
from django.utils.formats import date_format

from academy import share
from academy.models import Academy, Coach, Guardian
from lessons.models import FollowUp, Lesson
from lessons.queries.note import note_page
from lessons.queries.sheet import Receiver, WayOut, sheet_text, way_out

LINK_STOOD_HERE = "(A private link stood here. It is not kept.)"


@transaction.atomic
def mail_sheet(
    *, by: Coach, lesson: Lesson, key: uuid.UUID, with_link: bool = False, copy_to_child: bool = False,
    address_of: Callable[[str], str] = str,
) -> FollowUp:
    """Send the sheet now, once for each key, and store what was sent and to whom.

    Raises ValidationError with a sentence, and stores nothing, where messages are not allowed, nobody can get it, or
    the mail server refuses. ``address_of`` turns a link's token into its whole address. Each guardian gets a link of
    their own; a mail that a child gets a copy of carries none.
    """
    Lesson.objects.select_for_update().only("pk").get(pk=lesson.pk)
    sent = FollowUp.objects.filter(lesson=lesson, code=key).first()
    if sent is not None:
        return sent
    way = way_out(student=lesson.student)
    if way.problem:
        raise ValidationError(way.problem)
    if with_link and copy_to_child:
        raise ValidationError("A copy to the child carries no private link: choose one of the two.")
    page, subject = note_page(lesson), subject_of(lesson, junior=way.junior)
    text = _body(page, LINK_STOOD_HERE if with_link else "")
    row = _store(
        by, lesson, key, FollowUp.Channel.MAIL, subject=subject, text=text,
        sent_to=[_entry(one) for one in (*way.receivers, *([way.child] if copy_to_child and way.child else []))],
    )
    _send(_letters(by, lesson, way, page, subject, with_link, copy_to_child, address_of))
    return row


@transaction.atomic
def note_copied(*, by: Coach, lesson: Lesson, key: uuid.UUID) -> FollowUp:
    """Store that the coach copied the text to pass it on, once for each key. Refused where messages are off."""
    Lesson.objects.select_for_update().only("pk").get(pk=lesson.pk)
    sent = FollowUp.objects.filter(lesson=lesson, code=key).first()
    if sent is not None:
        return sent
    permission = way_out(student=lesson.student).permission
    if not permission.allowed:
        raise ValidationError(permission.reason)
    return _store(by, lesson, key, FollowUp.Channel.COPY, text=sheet_text(note_page(lesson)))


def subject_of(lesson: Lesson, *, junior: bool) -> str:
    """Return the subject line: it names a day and, to a guardian, a first name, and nothing of the lesson."""
    day = date_format(timezone.localdate(lesson.starts_at), "j F")
    return f"{lesson.student.first_name}: lesson of {day}" if junior else f"Your lesson of {day}"


def _store(by: Coach, lesson: Lesson, key: uuid.UUID, channel: str, **values: Any) -> FollowUp:
    row = FollowUp(code=key, lesson=lesson, channel=channel, created_by=by, sent_at=timezone.now(), **values)
    row.full_clean()
    row.save(force_insert=True)
    return row


def _letters(
    by: Coach, lesson: Lesson, way: WayOut, page: dict[str, Any], subject: str, with_link: bool, copy_to_child: bool,
    address_of: Callable[[str], str],
) -> list[EmailMultiAlternatives]:
    """Return one letter to everybody, or one a receiver where each gets a link of their own."""
    if not with_link:
        copies = [way.child.address] if copy_to_child and way.child else []
        return [_letter(way.receivers, page, subject, link="", copies=copies)]
    letters = []
    for receiver in way.receivers:
        guardian = Guardian.objects.get(code=receiver.guardian) if receiver.guardian else None
        _, token = share.issue_link(student=lesson.student, by=by, guardian=guardian)
        letters.append(_letter([receiver], page, subject, link=address_of(token)))
    return letters


def _letter(
    receivers: Sequence[Receiver], page: dict[str, Any], subject: str, *, link: str, copies: Sequence[str] = ()
) -> EmailMultiAlternatives:
    letter = EmailMultiAlternatives(
        subject=subject, body=_body(page, link), to=[one.address for one in receivers], cc=list(copies),
    )
    context = {**page, "link": link, "academy": Academy.objects.first()}
    letter.attach_alternative(render_to_string("lessons/sheet/mail.html", context), "text/html")
    return letter


def _body(page: dict[str, Any], link: str) -> str:
    text = sheet_text(page)
    return f"{text}\n\nYOUR PRIVATE PAGE\n{link}\nPlease keep it to yourself." if link else text


def _send(letters: Sequence[EmailMultiAlternatives]) -> None:
    try:
        get_connection().send_messages(letters)
    except OSError as error:  # smtplib's errors are among them
        raise ValidationError(
            f"The mail server did not take it, and nothing was sent or stored: {error}. Copy the text instead."
        ) from error


def _entry(receiver: Receiver) -> dict[str, Any]:
    return {"name": receiver.name, "address": receiver.address, "copy": receiver.copy}
