"""Writing rows so that every change has a who, a when and a what, and can be taken back.

    with journal(by=coach, student=student, lesson_code=lesson.code, sentence="Ball 3 added") as entry:
        entry.create(shot)
        entry.update(lesson, goal="Feet first")

Undo restores the values from before, in one transaction, and refuses where somebody has changed the same
values since. Rows with a ``removed_at`` column are taken out of view rather than deleted; rows of a ledger (models
with ``take_back``) are answered by a row with the opposite sign.
"""

import json
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from typing import Any

from django.apps import apps
from django.core.exceptions import ValidationError
from django.core.serializers.json import DjangoJSONEncoder
from django.db import connection, models, transaction
from django.utils import timezone

from .models import Change, Coach, Student

KEYS_AT_ONCE = 10_000
"""A long file is a single change of more balls than SQLite takes values in one statement."""


class CannotUndo(Exception):
    """The change cannot be taken back; the text says why, for the person who asked."""


class Entry:
    """Collects the row operations of one change. Made by ``journal``.

    ``sentence`` may be set inside the change, where what was done is only known then.
    """

    def __init__(self, *, by: Coach | None, student: Student | None, sentence: str) -> None:
        self.by = by
        self.student = student
        self.sentence = sentence
        self.operations: list[dict[str, Any]] = []

    def create(self, row: models.Model) -> None:
        """Validate and insert a row."""
        if hasattr(row, "created_by_id") and row.created_by_id is None:
            row.created_by = self.by
        row.full_clean()
        row.save(force_insert=True)
        self.note_created(row._meta.label_lower, [row.pk])

    def insert(self, row: models.Model) -> None:
        """Insert a row whose values were checked and whose relations were just read: ``create`` without asking the
        database for each of them again. What a constraint forbids is still refused by the database."""
        if hasattr(row, "created_by_id") and row.created_by_id is None:
            row.created_by = self.by
        row.clean_fields(exclude={field.name for field in row._meta.fields if field.is_relation})
        row.save(force_insert=True)
        self.note_created(row._meta.label_lower, [row.pk])

    def note_created(self, label: str, keys: Iterable[int]) -> None:
        """Record rows that were inserted by other means, such as many shots at once."""
        self.operations.append({"do": "create", "model": label, "keys": list(keys)})

    def update(self, row: models.Model, **values: Any) -> None:
        """Validate and store new values; fields that do not change are left out of the record."""
        before = {name: _plain(row, name) for name in values}
        for name, value in values.items():
            setattr(row, name, value)
        row.full_clean()
        after = {name: _plain(row, name) for name in values}
        changed = [name for name in values if before[name] != after[name]]
        if not changed:
            return
        row.save(update_fields=changed)
        self.operations.append({
            "do": "update", "model": row._meta.label_lower, "key": row.pk,
            "before": {name: before[name] for name in changed},
            "after": {name: after[name] for name in changed},
        })

    def remove(self, row: models.Model) -> None:
        """Take a row out of view."""
        self.update(row, removed_at=timezone.now())


@contextmanager
def journal(
    *, by: Coach | None, sentence: str = "", student: Student | None = None, lesson_code: Any = None
) -> Iterator[Entry]:
    """Open a change; everything inside is one transaction. A change without operations leaves no trace."""
    with transaction.atomic():
        entry = Entry(by=by, student=student, sentence=sentence)
        yield entry
        if entry.operations:
            Change.objects.create(
                created_by=by, student=student, lesson_code=lesson_code, sentence=entry.sentence,
                operations=entry.operations,
            )


def in_parts(keys: Iterable[int]) -> Iterator[list[int]]:
    """Yield the keys of many rows as lists that fit into one statement each."""
    every = list(keys)
    for first in range(0, len(every), KEYS_AT_ONCE):
        yield every[first : first + KEYS_AT_ONCE]


def last_change(*, lesson_code: Any) -> Change | None:
    """Return the newest change of a lesson that was not taken back."""
    return Change.objects.filter(lesson_code=lesson_code, undone_at__isnull=True).first()


def mark_of(*, student: Student) -> str:
    """Return how far the journal has gone for a student and for what belongs to nobody: while it stays, nothing was
    written. One query, answered from an index alone.

    Changes are counted as well as named by the newest, because of two at the same time the later may be seen first.
    """
    table = connection.ops.quote_name(Change._meta.db_table)
    each = f"SELECT COUNT(*), COUNT(undone_at), MAX(id) FROM {table} WHERE student_id"
    with connection.cursor() as cursor:
        cursor.execute(f"{each} = %s UNION ALL {each} IS NULL", [student.pk])
        return " ".join(f"{changes}.{taken_back}.{newest or 0}" for changes, taken_back, newest in cursor.fetchall())


@transaction.atomic
def undo(*, change: Change, by: Coach | None) -> None:
    """Take a change back. Raises CannotUndo with a sentence where that is no longer possible."""
    change = Change.objects.select_for_update().get(pk=change.pk)
    if change.undone_at is not None:
        raise CannotUndo("This was already taken back.")
    for operation in reversed(change.operations):
        model = apps.get_model(operation["model"])
        if operation["do"] == "create":
            _take_out(model, operation["keys"], by)
        else:
            _put_back(model, operation)
    change.undone_at, change.undone_by = timezone.now(), by
    change.save(update_fields=["undone_at", "undone_by"])


def _take_out(model: type[models.Model], keys: list[int], by: Coach | None) -> None:
    if hasattr(model, "take_back"):
        model.take_back(keys, by=by)
        return
    try:
        for part in in_parts(keys):
            rows = model._default_manager.filter(pk__in=part)
            if any(field.name == "removed_at" for field in model._meta.fields):
                rows.update(removed_at=timezone.now())
            else:
                rows.delete()
    except models.ProtectedError as error:
        raise CannotUndo("Something else already builds on this; take that back first.") from error


def _put_back(model: type[models.Model], operation: dict[str, Any]) -> None:
    try:
        row = model._default_manager.get(pk=operation["key"])
    except model.DoesNotExist as error:
        raise CannotUndo("The row is no longer there.") from error
    for name, value in operation["after"].items():
        if _plain(row, name) != value:
            label = model._meta.get_field(name).verbose_name
            raise CannotUndo(f"The {label} was changed again since; take that change back first.")
    for name, value in operation["before"].items():
        field = model._meta.get_field(name)
        setattr(row, field.attname, field.to_python(value) if not field.is_relation else value)
    try:
        row.full_clean()
    except ValidationError as error:
        raise CannotUndo(f"The earlier value no longer fits: {' '.join(error.messages)}") from error
    row.save(update_fields=list(operation["before"]))


def _plain(row: models.Model, name: str) -> Any:
    """Return a field's value as it looks after a trip through JSON."""
    field = row._meta.get_field(name)
    value = getattr(row, field.attname)
    if isinstance(value, datetime) and timezone.is_aware(value):
        value = value.astimezone(UTC)  # as it comes back from the database, whatever zone it was given in
    return json.loads(json.dumps(value, cls=DjangoJSONEncoder))
