"""Drafts from the academy's own texts. A draft is shown and copied; nothing here sends anything."""

import string
from dataclasses import dataclass
from urllib.parse import quote, urlencode

from academy.models import Academy
from lessons.models import MessageText
from lessons.models.office import Cause
from lessons.queries.sheet import way_out

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
}
"""What is used until the academy has written its own."""


@dataclass(frozen=True, kw_only=True)
class Draft:
    """A message that is ready to be copied; ``problem`` says why there is none."""

    row: Row
    to: list[str]
    copies: list[str]
    subject: str
    body: str
    problem: str = ""

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
    known, academy = texts(), Academy.objects.first()
    return [_draft(row, *known[row.cause], academy.name if academy else "") for row in rows]


def fill(text: str, words: dict[str, str]) -> str:
    """Fill the words in braces in; others are left as they stand."""
    return string.Formatter().vformat(text, (), _Left(words)) if "{" in text else text


class _Left(dict):
    def __missing__(self, key: str) -> str:
        return "{" + key + "}"


def unknown_words(text: str) -> list[str]:
    """Return the words in braces that mean nothing here. Raises ValueError for braces that do not close."""
    return sorted({name for _, name, _, _ in string.Formatter().parse(text) if name is not None} - set(WORDS))


def _draft(row: Row, subject: str, body: str, academy: str) -> Draft:
    way = way_out(student=row.student)
    to = [one.address for one in way.receivers]
    copies = [way.child.address] if way.junior and way.child and way.permission.allowed else []
    words = {
        "first_name": row.student.first_name, "coach": str(row.student.coach), "academy": academy, "why": row.why,
        "guardian": way.receivers[0].name if way.receivers else row.student.first_name, "last_words": row.said,
    }
    return Draft(row=row, to=to, copies=copies, subject=fill(subject, words), body=fill(body, words),
                 problem=way.problem)
