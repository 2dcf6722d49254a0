"""What an archive holds, table by table, and what it leaves out and why. A test compares this with the models."""

from dataclasses import dataclass, field
from typing import Any

from django.apps import apps
from django.db import models

from lessons.models.batch import deflated


class ArchiveError(ValueError):
    """An archive that cannot be read in; the message is a sentence, and nothing was changed."""


@dataclass(frozen=True, kw_only=True)
class Table:
    """One table. Tables stand in an order in which every row comes after the rows it points to.

    ``path``: how a row finds its student; empty for what belongs to the academy. ``identity``: what a row is called
    outside this database. ``shared``: rows that other students' records use too; one that is here already (same
    identity, or same ``twin``) is used as it is. ``private``: what the sharing form puts in place of a value
    that is there, and ``all_private`` leaves the whole table out of it.
    """

    label: str
    path: str = ""
    identity: str = "code"
    shared: bool = False
    twin: tuple[str, ...] = ()
    without: frozenset[str] = frozenset()
    private: dict[str, Any] = field(default_factory=dict)
    all_private: bool = False

    @property
    def model(self) -> type[models.Model]:
        return apps.get_model(self.label)

    @property
    def fields(self) -> list[models.Field]:
        """The columns of an archive: all but the row number and what is secret."""
        columns = self.model._meta.concrete_fields
        return [one for one in columns if not one.primary_key and one.name not in self.without]


_ACCOUNT = frozenset({"password", "last_login", "is_superuser", "is_staff"})
_TOKEN = frozenset({"token_prefix", "token_digest", "token_revoked_at", "minute_began_at", "minute_calls"})
# What was said and agreed in a lesson is its coach's; an owner's page shows none of it, so the owner's file neither.
_SAID = dict.fromkeys(
    ("private_note", "student_note", "belief", "goal", "first_measure", "next_measure", "played", "second_adult",
     "reflection_good", "reflection_other"), ""
)
_BALL = {"raw": "", "excluded_reason": "left out by the coach"}
# A file's rows stand in its problems and corrections too, and people write what they like into its name.
_FILE = {"raw_deflated": deflated(b""), "file_name": "file", "reading": {}, "problems": []}

TABLES: tuple[Table, ...] = (
    Table(label="academy.academy", identity="", shared=True),
    Table(label="academy.coach", shared=True, twin=("username",), without=_ACCOUNT),
    Table(label="academy.venue", shared=True, twin=("name",)),
    Table(label="lessons.datasource", shared=True, twin=("name",), without=_TOKEN),
    Table(label="lessons.libraryentry", identity="", shared=True, twin=("kind", "slug")),
    Table(label="academy.student", path="pk", private={"notes": ""}),
    Table(label="academy.guardian", shared=True),
    Table(label="academy.guardianship", path="student"),
    Table(label="academy.consent", path="student"),
    Table(label="academy.club", path="student"),
    Table(label="academy.goal", path="student"),
    Table(label="academy.intent", path="student"),
    Table(label="academy.healthflag", path="student", all_private=True),
    Table(label="academy.painreading", path="student", all_private=True),
    Table(label="lessons.lesson", path="student", private=_SAID),
    Table(label="lessons.importbatch", path="lesson__student", private=_FILE),
    Table(label="lessons.block", path="lesson__student"),
    Table(label="lessons.shot", path="block__lesson__student", identity="key", private=_BALL),
    Table(label="lessons.setupobservation", path="lesson__student"),
    Table(label="lessons.setupseries", path="lesson__student"),
    Table(label="lessons.setuplook", path="series__lesson__student"),
    Table(label="lessons.finding", path="lesson__student", all_private=True),
    Table(label="lessons.prescription", path="lesson__student", all_private=True),
    Table(label="lessons.drillassignment", path="student", all_private=True),
    Table(label="lessons.practiceentry", path="student", private={"pain": None, "note": "", "assignment": None}),
    Table(label="lessons.followup", path="lesson__student", all_private=True),
    Table(label="lessons.studentmessage", path="student", all_private=True),
    Table(label="lessons.groupclass", shared=True),
    Table(label="lessons.booking", path="lesson__student", private={"cancel_note": ""}),
    Table(label="lessons.waiting", path="student"),
    Table(label="lessons.workinghours"),
    Table(label="lessons.queuemark", path="student", private={"reason": ""}),
    Table(label="lessons.messagetext"),
    Table(label="lessons.incident", path="student", all_private=True),
    Table(label="lessons.coachcheck"),
    Table(label="lessons.package", path="student"),
    Table(label="lessons.packageentry", path="package__student", private={"note": ""}),
    Table(label="lessons.round", path="student"),
    Table(label="lessons.override", path="student", private={"reason": "not handed on"}),
    Table(label="lessons.battery", path="student", all_private=True),
    Table(label="lessons.skilltest", path="student", private={"battery": None, "conditions": ""}),
    Table(label="lessons.skillball", path="test__student", identity="key"),
    Table(label="lessons.studentevent", path="student"),
    Table(label="lessons.plan", path="student", all_private=True),
    Table(label="lessons.practicedays", path="student", private={"told": {}}),
    Table(label="lessons.courseshot", path="lesson__student", all_private=True),
    Table(label="lessons.plantemplate"),
    Table(label="lessons.standing", path="student", identity=""),
    Table(label="lessons.liveball", private={"raw": ""}),
    Table(label="lessons.watchedfile"),
    Table(label="academy.change", path="student", all_private=True),
)
BY_LABEL = {table.label: table for table in TABLES}

LEFT_OUT = {
    "academy.sharelink": "private links are keys of one installation; they are issued anew",
    "academy.concern": "concerns are the welfare lead's alone; a coach may make an archive. Backups hold them",
    "lessons.calendarfeed": "addresses of calendars are keys of one installation; they are issued anew",
    "academy.entrylink": "one-time sign-ins are over in minutes",
    "lessons.prepared": "is made anew from the rest when a page is next opened",
    "lessons.attachment": "pictures and clips are kept for one place and time by consent; a backup holds them",
    "academy.secondfactor": "a secret of one installation, sealed with its key",
    "academy.recoverycode": "belongs to the second factor",
    "academy.erasure": "who was erased stays known where it was done",
    "academy.reading": "who read what is answered for where it was read",
    "academy.session": "who is signed in where; everybody signs in anew",
}
