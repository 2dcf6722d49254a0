"""Rows are gathered and written together: a table at a time, parents first. Codes come from the seed."""

import random
import uuid
from collections import defaultdict
from datetime import datetime
from typing import Any

from django.core.management.color import no_style
from django.db import connection
from django.db.models import Max, Model

from academy.models import (
    Club,
    Concern,
    Consent,
    Goal,
    Guardian,
    Guardianship,
    HealthFlag,
    Intent,
    Recorded,
    ShareLink,
    Student,
)
from lessons.models import (
    Block,
    Booking,
    CourseShot,
    DrillAssignment,
    Finding,
    FollowUp,
    GroupClass,
    Incident,
    Lesson,
    Package,
    PackageEntry,
    Plan,
    PracticeEntry,
    Prescription,
    QueueMark,
    Round,
    SetupObservation,
    SkillBall,
    SkillTest,
    StudentEvent,
    StudentMessage,
    Waiting,
)
from lessons.services.shots import as_stored

ORDER: tuple[type[Model], ...] = (
    Student, Guardian, Guardianship, Consent, Club, Intent, Goal, HealthFlag, ShareLink, Concern, GroupClass, Lesson,
    Booking, Block, SetupObservation, Finding, Prescription, DrillAssignment, PracticeEntry, FollowUp, StudentMessage,
    CourseShot, Package, PackageEntry, QueueMark, Incident, Round, SkillTest, SkillBall, StudentEvent, Waiting,
    Plan,
)


class Rows:
    """What was made and is not written yet. ``random`` is set anew for each person, so that people do not depend on
    each other."""

    def __init__(self) -> None:
        self.random = random.Random(0)
        self.waiting: dict[type[Model], list[Model]] = defaultdict(list)

    def key(self) -> uuid.UUID:
        """Return the next code."""
        return uuid.UUID(int=self.random.getrandbits(128), version=4)

    def add(self, model: type[Model], *, at: datetime | None = None, **values: Any) -> Any:
        """Make a row and return it; ``at`` is when it was written, by the story told."""
        if issubclass(model, Recorded):
            values = {"source": "demo", "code": self.key(), **values}
        if at is not None:
            values["created_at"] = at
        row = model(**values)
        self.waiting[model].append(row)
        return row

    def store(self) -> None:
        """Write everything that waits."""
        unknown = set(self.waiting) - set(ORDER)
        if unknown:
            raise ValueError(f"No place in the order of writing for {', '.join(sorted(m.__name__ for m in unknown))}.")
        for model in ORDER:
            if waiting := self.waiting.pop(model, []):
                _write(model, waiting)


def keep_counting() -> None:
    """Let the database go on with its own row numbers behind those that were given here."""
    for statement in connection.ops.sequence_reset_sql(no_style(), ORDER):
        with connection.cursor() as cursor:
            cursor.execute(statement)


def _write(model: type[Model], rows: list[Model]) -> None:
    """Insert rows with one prepared statement, their numbers given here: the usual way takes three times as long."""
    first = (model.objects.aggregate(top=Max("pk"))["top"] or 0) + 1
    for number, row in enumerate(rows, first):
        row.pk = number
        row._state.adding = False
    fields = model._meta.concrete_fields
    quote = connection.ops.quote_name
    names = ", ".join(quote(field.column) for field in fields)
    marks = ", ".join(["%s"] * len(fields))
    columns = [as_stored(field, [_value(row, field) for row in rows]) for field in fields]
    with connection.cursor() as cursor:
        cursor.executemany(
            f"INSERT INTO {quote(model._meta.db_table)} ({names}) VALUES ({marks})", zip(*columns, strict=True))


def _value(row: Model, field: Any) -> Any:
    """Return a column's value; of another row its number, which it may have got a moment ago."""
    if field.is_relation and field.is_cached(row):
        other = field.get_cached_value(row)
        return None if other is None else other.pk
    return getattr(row, field.attname)
