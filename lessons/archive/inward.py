"""A document back into rows: all of it, or nothing."""

import base64
import binascii
import math
from collections.abc import Mapping
from datetime import datetime
from typing import Any

from django.conf import settings
from django.core.exceptions import FieldDoesNotExist, ValidationError
from django.db import DatabaseError, IntegrityError, models, transaction
from django.utils import timezone

from academy.models import Academy, Coach, Student

from .operations import inward_operations
from .outward import FORMAT
from .tables import BY_LABEL, TABLES, ArchiveError, Table

AT_ONCE = 200


def read_in(document: Any) -> dict[str, int]:
    """Store everything an archive holds; return how many new rows each table got. Raises ArchiveError.

    The whole academy goes only into a database without students; a student only where the student is not yet.
    Coaches come without passwords.
    """
    tables = _checked(document)
    try:
        with transaction.atomic():
            _refuse_what_is_here(document["kind"], tables)
            reader = _Reader()
            return {table.label: reader.store(table, tables[table.label]) for table in TABLES if table.label in tables}
    except ArchiveError:
        raise
    except IntegrityError as error:
        raise ArchiveError(f"Something of this archive is here already, or does not fit: {error}.") from error
    except (DatabaseError, OverflowError, ValueError) as error:
        raise ArchiveError(f"The database cannot hold something of this archive: {error}.") from error


def _checked(document: Any) -> dict[str, dict[str, Any]]:
    """Return the tables of a document after checking its form and its counts."""
    if not isinstance(document, dict) or document.get("program") != "holdfast":
        raise ArchiveError("This is no archive of Holdfast.")
    made = document.get("format")
    if not isinstance(made, int) or isinstance(made, bool) or made < 1:
        raise ArchiveError("The archive does not say its format; it is damaged.")
    if made > FORMAT:
        raise ArchiveError(f"This archive has format {made}; this program reads up to {FORMAT}. Update it first.")
    if document.get("kind") not in ("student", "academy"):
        raise ArchiveError("The archive does not say whether it is a student's or an academy's; it is damaged.")
    if document.get("demo") is not settings.DEMO:
        raise ArchiveError("An archive of the demo cannot go into real data, nor the other way round.")
    tables, counts = document.get("tables"), document.get("counts")
    if not isinstance(tables, list) or not isinstance(counts, dict):
        raise ArchiveError("The archive has no tables; it is damaged.")
    found = {table["table"]: table for table in map(_checked_table, tables)}
    if len(found) < len(tables) or counts != {label: len(table["rows"]) for label, table in found.items()}:
        raise ArchiveError("The rows of the archive are not as many as it says; it is damaged.")
    return found


def _checked_table(table: Any) -> dict[str, Any]:
    label = table.get("table") if isinstance(table, dict) else None
    if not isinstance(label, str) or label not in BY_LABEL:
        raise ArchiveError(f"The archive holds a table “{str(label)[:60]}” that is not known here.")
    fields, rows = table.get("fields"), table.get("rows")
    known = {one.name for one in BY_LABEL[label].fields}
    if not isinstance(fields, list) or not all(isinstance(one, str) for one in fields) or len({*fields}) < len(fields):
        raise ArchiveError(f"{label}: its list of fields is damaged.")
    unknown = sorted(set(fields) - known)
    if unknown:
        raise ArchiveError(f"{label}: “{unknown[0][:60]}” is no field known here. Update the program first.")
    if not isinstance(rows, list) or not all(isinstance(row, list) and len(row) == len(fields) for row in rows):
        raise ArchiveError(f"{label}: not every row has {len(fields)} values; the archive is damaged.")
    return table


def _refuse_what_is_here(kind: str, tables: Mapping[str, dict[str, Any]]) -> None:
    if kind == "academy" and Student.objects.exists():
        raise ArchiveError("Students are here already. A whole academy goes into an empty database only.")
    student = tables.get("academy.student")
    if student is None:
        raise ArchiveError("The archive holds no table of students; it is damaged.")
    if kind == "student" and len(student["rows"]) != 1:
        raise ArchiveError(f"A student's archive holds one student; {len(student['rows'])} were found.")


class _Reader:
    """Stores table after table and remembers which identity became which row."""

    def __init__(self) -> None:
        self.numbers: dict[str, dict[str, int]] = {}

    def store(self, table: Table, found: dict[str, Any]) -> int:
        columns = [table.model._meta.get_field(name) for name in found["fields"]]
        made = [self._row(table, columns, values, place) for place, values in enumerate(found["rows"], 1)]
        fresh, here = self._apart(table, made)
        fresh = table.model._default_manager.bulk_create(fresh, batch_size=AT_ONCE)
        if table.identity:
            self.numbers[table.label] = {**here, **{str(getattr(row, table.identity)): row.pk for row in fresh}}
        return len(fresh)

    def _row(self, table: Table, columns: list[models.Field], values: list[Any], place: int) -> models.Model:
        row = table.model()
        for column, value in zip(columns, values, strict=True):
            try:
                setattr(row, column.attname, self._value(table, column, value))
            except (ValidationError, ValueError, TypeError, LookupError, AttributeError, FieldDoesNotExist) as error:
                words = " ".join(error.messages) if isinstance(error, ValidationError) else str(error)
                raise ArchiveError(f"{table.label}, row {place}, {column.name}: {words[:300]}") from error
        if isinstance(row, Academy):
            row.pk = 1
        if isinstance(row, Coach):
            row.set_unusable_password()
        return row

    def _value(self, table: Table, column: models.Field, value: Any) -> Any:
        if column.is_relation:
            return self._pointed(column, value)
        if isinstance(column, models.BinaryField):
            return _bytes(value)
        if table.label == "academy.change" and column.name == "operations":
            return inward_operations(value, lambda label, name: self.numbers.get(label, {}).get(name))
        if isinstance(column, models.JSONField):
            return _of_its_kind(column, value)
        if value is None:
            return _nothing(column)
        if isinstance(value, (dict, list)) or isinstance(column, models.CharField) and not isinstance(value, str):
            raise ValueError("found another kind of value than belongs here.")
        value = column.to_python(value)
        if isinstance(value, float) and not math.isfinite(value):
            # Odd numbers that were stored once come back too: bounds are for the door, not for the record.
            raise ValueError("found a number that is not finite.")
        if isinstance(value, datetime) and timezone.is_naive(value):
            raise ValueError("found a time without its offset.")
        column.run_validators(value)
        if column.choices and value not in (*dict(column.flatchoices), ""):
            raise ValueError(f"found “{value}”, which is none of the values there are.")
        return value

    def _pointed(self, column: models.Field, name: Any) -> int | None:
        if name is None:
            return _nothing(column)
        number = self.numbers.get(column.related_model._meta.label_lower, {}).get(name)
        if number is None:
            raise ValueError(f"points to “{str(name)[:60]}”, which is not in the archive.")
        return number

    def _apart(self, table: Table, rows: list[models.Model]) -> tuple[list[models.Model], dict[str, int]]:
        """Return the rows to store, and identity -> row number of shared ones that are here already."""
        if not table.shared:
            return rows, {}
        if table.label == "academy.academy":
            return ([] if Academy.objects.exists() else rows), {}
        here: dict[str, int] = {}
        fresh = []
        for row in rows:
            number = _number_of(table, row)
            if number is None:
                fresh.append(row)
            elif table.identity:
                here[str(getattr(row, table.identity))] = number
        return fresh, here


def _number_of(table: Table, row: models.Model) -> int | None:
    """Return the row number of what is here already, by identity or else by what must be unique."""
    ways = [(table.identity,)] if table.identity else []
    for names in [*ways, *([table.twin] if table.twin else [])]:
        wanted = {name: getattr(row, name) for name in names}
        found = table.model._default_manager.filter(**wanted).values_list("pk", flat=True).first()
        if found is not None:
            return found
    return None


def _nothing(column: models.Field) -> None:
    if not column.null:
        raise ValueError("found nothing where a value belongs.")


def _of_its_kind(column: models.JSONField, value: Any) -> Any:
    """Refuse a list where the pages expect an object, and the other way round."""
    kind = column.default if column.default in (dict, list) else None
    if value is None and not column.null or kind is not None and not isinstance(value, kind):
        raise ValueError("found another kind of value than belongs here.")
    return value


def _bytes(value: Any) -> bytes:
    if not isinstance(value, str):
        raise ValueError("found no text of bytes.")
    try:
        return base64.b64decode(value, validate=True)
    except binascii.Error as error:
        raise ValueError("found text that holds no bytes.") from error
