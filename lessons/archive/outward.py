"""Rows into a document. Row numbers never leave the database: a row points to another by its identity."""

import base64
from collections import defaultdict
from datetime import date, datetime, time
from typing import Any
from uuid import UUID

from django.conf import settings
from django.db import models, transaction
from django.db.models import QuerySet
from django.utils import timezone

from academy.models import Student

from .operations import outward_operations
from .tables import BY_LABEL, TABLES, Table

FORMAT = 1
ABOUT = (
    "A record of Holdfast. Times are UTC. SI units, degrees and rpm excepted; horizontal quantities are "
    "player-relative: + is the slice side for both hands. Each table has its fields once and its rows as lists."
)


@transaction.atomic
def write(*, student: Student | None = None, sharing: bool = False, only: str = "") -> dict[str, Any]:
    """Return one student's whole record, or the academy's, as plain JSON values. About two queries a table.

    ``only`` names the one table that is wanted; such a document is for reading, it does not go in again.

    The sharing form leaves out what was said and agreed in lessons (see ``private`` in tables.py). It still names
    people: it is for handing on within the academy, not for publishing.
    """
    writer = _Writer(student=student, sharing=sharing)
    found = [writer.table(table) for table in reversed(TABLES) if only in ("", table.label)]
    tables = [one for one in reversed(found) if one is not None]
    return {
        "program": "holdfast", "format": FORMAT, "kind": "student" if student else "academy",
        "form": "sharing" if sharing else "whole", "demo": settings.DEMO, "made_at": timezone.now().isoformat(),
        "about": ABOUT, "counts": {one["table"]: len(one["rows"]) for one in tables}, "tables": tables,
    }


class _Writer:
    """Goes through the tables backwards, so that what is pointed to is known before its own turn comes."""

    def __init__(self, *, student: Student | None, sharing: bool) -> None:
        self.student, self.sharing = student, sharing
        self.used: dict[str, set[int]] = defaultdict(set)
        self.names: dict[str, dict[int, str]] = {}

    def table(self, table: Table) -> dict[str, Any] | None:
        if self.sharing and table.all_private or self.student and not (table.path or table.shared):
            return None
        if self.student and table.label in {"academy.academy", "lessons.libraryentry"}:
            return None
        fields = table.fields
        rows = self._rows(table).order_by("pk").values_list(*(one.attname for one in fields))
        return {
            "table": table.label, "fields": [one.name for one in fields],
            "rows": [
                [self._value(table, one, value) for one, value in zip(fields, row, strict=True)] for row in rows
            ],
        }

    def _rows(self, table: Table) -> QuerySet:
        rows = table.model._default_manager.all()
        if self.student is None:
            return rows
        if table.shared:
            return rows.filter(pk__in=self.used[table.label])
        return rows.filter(**{table.path: self.student.pk})

    def _value(self, table: Table, one: models.Field, value: Any) -> Any:
        if self.sharing and one.name in table.private and value not in (None, ""):
            value = table.private[one.name]
        if one.is_relation:
            return self._name(one.related_model._meta.label_lower, value)
        if table.label == "academy.change" and one.name == "operations":
            return outward_operations(value, self._name)
        return plain(value)

    def _name(self, label: str, pk: int | None) -> str | None:
        if pk is None:
            return None
        self.used[label].add(pk)
        return self._known_name(label, pk)

    def _known_name(self, label: str, pk: int | None) -> str | None:
        """Return a row's identity, or None where it has none in an archive or is not there any more."""
        if label not in self.names:
            table = BY_LABEL.get(label)
            known = table is not None and table.identity
            rows = table.model._default_manager.values_list("pk", table.identity) if known else ()
            self.names[label] = {key: str(name) for key, name in rows}
        return self.names[label].get(pk)


def plain(value: Any) -> Any:
    """Return a value as JSON holds it; numbers keep every digit."""
    if isinstance(value, (datetime, date, time)):
        return value.isoformat()
    if isinstance(value, UUID):
        return str(value)
    if isinstance(value, (bytes, memoryview)):
        return base64.b64encode(bytes(value)).decode()
    return value
