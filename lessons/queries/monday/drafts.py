"""Drafts from the academy's own texts. A draft is shown and copied; nothing here sends anything."""

import string
from collections.abc import Iterable
from dataclasses import dataclass
from urllib.parse import quote, urlencode

from django.utils import timezone

from academy.models import Academy, Student
from lessons.models import Lesson, MessageText
from lessons.models.diary import CancelReason
from lessons.models.office import OFF, Cause
from lessons.queries.sheet import WayOut, way_out

from .causes import Row

WORDS = {
    "first_name": "the student’s first name", "guardian": "the guardian’s name, or the student’s own",
    "coach": "the coach’s name", "academy": "the academy’s name", "why": "what the list says",
    "last_words": "what was last said",
}
USUAL = {
    Cause.OVERDUE: ("Your next lesson", "Dear {guardian},\n\nwe had thought of a next lesson for {first_name} by now. "
                    "Shall we find an hour? If something keeps you away, just say so.\n\n{coach}, {academy}"),
    Cause.SHEET: ("The notes of the lesson", "Dear {guardian},\n\nthe notes of {first_name}’s last lesson are late; "
                  "they come today.\n\n{coach}, {academy}"),
    Cause.QUESTION: ("Your question", "Dear {guardian},\n\nthank you for the question. Here is the answer:\n\n\n\n"
                     "{coach}, {academy}"),
    Cause.SILENT: ("How is the practice going?", "Dear {guardian},\n\nnothing was ticked for a while. Too much, too "
                   "little time, or no fun? We can make it smaller: ten minutes, three times a week.\n\n"
                   "{coach}, {academy}"),
    Cause.CONSENT: ("A permission runs out", "Dear {guardian},\n\nfor {first_name}: {why} Please renew it on your "
                    "page, or tell us if you do not want to.\n\n{coach}, {academy}"),
    Cause.PACKAGE: ("Your package", "Dear {guardian},\n\n{why} Tell us if you would like to go on.\n\n"
                    "{coach}, {academy}"),
    Cause.EQUIPMENT: ("A look at the clubs", "Dear {guardian},\n\n{first_name}’s clubs were last measured a while "
                      "ago. Bring them all next time; loft, lie and grips take ten minutes.\n\n{coach}, {academy}"),
    OFF: ("Please do not come: the hour is off", "Dear {guardian},\n\n{first_name}: {why} Nothing is taken from a "
          "package. We look for another hour together.\n\n{coach}, {academy}"),
}
"""What is used until the academy has written its own."""


@dataclass(frozen=True, kw_only=True)
class Draft:
    """A message that is ready to be copied; ``problem`` says why there is none."""

    student: Student
    about: str
    to: list[str]
    copies: list[str]
    subject: str
    body: str
    problem: str = ""
    ring: str = ""
    """Whom to ring where nothing may be written."""

    @property
    def mail_address(self) -> str:
        """A link that opens the reader's own mail program with the draft in it."""
        asked = {"subject": self.subject, "body": self.body}
        if self.copies:
            asked["cc"] = ",".join(self.copies)
        return f"mailto:{quote(','.join(self.to), safe='@,')}?{urlencode(asked, quote_via=quote)}"


def texts() -> dict[str, tuple[str, str]]:
    """Return subject and body for each cause, the academy's own where there is one. One query."""
    own = {row.cause: (row.subject, row.body) for row in MessageText.objects.all()}
    return {cause: own.get(cause, usual) for cause, usual in USUAL.items()}


def drafts(rows: list[Row]) -> list[Draft]:
    """Return a draft for each row. A junior's goes to the guardians, never to the child alone."""
    known, academy = texts(), _academy_name()
    return [
        draft(student=row.student, about=f"{row.label}. {row.why}", text=known[row.cause], words={
            "coach": str(row.student.coach), "academy": academy, "why": row.why, "last_words": row.said})
        for row in rows
    ]


def drafts_of_hours(lessons: Iterable[Lesson]) -> list[Draft]:
    """Return a draft for each cancelled hour, of a class or alone, with the reason that was noted."""
    known, academy = texts(), _academy_name()
    found = []
    for lesson in lessons:
        why = hour_words(lesson)
        found.append(draft(student=lesson.student, about=why, text=known[OFF], words={
            "coach": str(lesson.coach), "academy": academy, "why": why, "last_words": ""}))
    return found


def hour_words(lesson: Lesson) -> str:
    """Say which hour is off, and why."""
    starts = timezone.localtime(lesson.starts_at)
    what = lesson.booking.group.name if lesson.booking.group else "The lesson"
    reason = lesson.booking.get_cancel_reason_display().lower()
    told = lesson.booking.cancel_note if lesson.booking.cancel_reason != CancelReason.ILL else ""
    note = f", {told}" if told else ""
    return f"{what} on {starts:%A %-d %B}, {starts:%H:%M}, is cancelled: {reason}{note}."


def _academy_name() -> str:
    return Academy.objects.values_list("name", flat=True).first() or ""


def fill(text: str, words: dict[str, str]) -> str:
    """Fill the words in braces in; others are left as they stand."""
    return string.Formatter().vformat(text, (), _Left(words)) if "{" in text else text


class _Left(dict):
    def __missing__(self, key: str) -> str:
        return "{" + key + "}"


def unknown_words(text: str) -> list[str]:
    """Return the words in braces that mean nothing here. Raises ValueError for braces that do not close."""
    return sorted({name for _, name, _, _ in string.Formatter().parse(text) if name is not None} - set(WORDS))


def draft(*, student: Student, about: str, text: tuple[str, str], words: dict[str, str]) -> Draft:
    """Fill subject and body in for one student. Four queries at most."""
    way = way_out(student=student)
    to = [one.address for one in way.receivers]
    copies = [way.child.address] if way.junior and way.child and way.permission.allowed else []
    whom = way.receivers[0].name if way.receivers else student.first_name
    told = {**words, "first_name": student.first_name, "guardian": whom}
    subject, body = (fill(part, told) for part in text)
    return Draft(student=student, about=about, to=to, copies=copies, subject=subject, body=body, problem=way.problem,
                 ring=_ring(student, way) if way.problem else "")


def _ring(student: Student, way: WayOut) -> str:
    """A child is not rung; the guardians are."""
    people = way.guardians if way.junior else (student,)
    return ", ".join(f"{one.name} {one.phone}" for one in people if one.phone)
