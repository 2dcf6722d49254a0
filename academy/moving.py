"""Moving a whole academy from the embedded database to PostgreSQL: every table, counted and checked, repeatable.

Everything happens in one transaction of the target and one of the source, so that nothing is half moved and nobody
writes meanwhile. Moving again replaces what an earlier move has put there, as long as nobody has worked there since.
"""

import hashlib
import json
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

from django.apps import apps
from django.core.management import call_command
from django.core.management.color import no_style
from django.core.serializers.json import DjangoJSONEncoder
from django.db import DatabaseError, connections, models, transaction

from .environment import postgres

TARGET = "move_target"
AT_ONCE = 500


class MoveError(Exception):
    """The academy was not moved; the text says why. The target is as it was."""


@dataclass(frozen=True, kw_only=True)
class Moved:
    """One table: its name, its rows, the SHA-256 of its content, the same on both sides."""

    table: str
    rows: int
    sha256: str


def move_to(*, url: str) -> list[Moved]:
    """Copy every table to the PostgreSQL database of this address. Raises MoveError."""
    if connections["default"].vendor != "sqlite":
        raise MoveError("This academy is not on the embedded database any more; use pg_dump and pg_restore.")
    connections.databases[TARGET] = {**connections.databases["default"], "OPTIONS": {}, **postgres(url)}
    try:
        call_command("migrate", database=TARGET, interactive=False, verbosity=0)
        with transaction.atomic(), transaction.atomic(using=TARGET):
            _refuse_what_is_in_use()
            tables = every_table()
            _empty(tables)
            moved = [_copy(model) for model in tables]
            _reset_sequences(tables)
            return moved
    except DatabaseError as error:
        raise MoveError(f"The target said: {str(error).strip()}. Nothing was moved.") from error
    finally:
        connections[TARGET].close()
        del connections.databases[TARGET], connections[TARGET]


def every_table() -> list[type[models.Model]]:
    """Return the models of every table, those between tables included."""
    every = apps.get_models(include_auto_created=True)
    return [model for model in every if model._meta.managed and not model._meta.proxy]


def checksum(*, model: type[models.Model], using: str) -> tuple[int, str]:
    """Return the rows of a table and the SHA-256 of their content, the same for the same content on any database."""
    names = [column.attname for column in model._meta.concrete_fields]
    digest, count = hashlib.sha256(), 0
    for row in model._base_manager.using(using).order_by("pk").values_list(*names).iterator(chunk_size=AT_ONCE):
        digest.update(json.dumps([_plain(value) for value in row], cls=DjangoJSONEncoder, sort_keys=True).encode())
        count += 1
    return count, digest.hexdigest()


def _plain(value: Any) -> Any:
    """PostgreSQL writes the numbers inside JSON its own way: 1 and 1.0 are one number here."""
    if isinstance(value, (bytes, memoryview)):
        return bytes(value).hex()
    if isinstance(value, bool) or value is None:
        return value
    if isinstance(value, (int, float)):
        return repr(float(value)) if abs(value) < 2**53 else str(value)
    if isinstance(value, dict):
        return {key: _plain(inner) for key, inner in value.items()}
    if isinstance(value, (list, tuple)):
        return [_plain(inner) for inner in value]
    return value.isoformat() if hasattr(value, "isoformat") else str(value)


def _copy(model: type[models.Model]) -> Moved:
    rows: list[models.Model] = []
    with _stored_times(model):
        for row in model._base_manager.using("default").order_by("pk").iterator(chunk_size=AT_ONCE):
            rows.append(row)
            if len(rows) == AT_ONCE:
                model._base_manager.using(TARGET).bulk_create(rows)
                rows = []
        model._base_manager.using(TARGET).bulk_create(rows)
    here, there = checksum(model=model, using="default"), checksum(model=model, using=TARGET)
    if here != there:
        raise MoveError(f"{model._meta.label}: {here[0]} rows here, {there[0]} there, or not the same content. "
                        "Nothing was moved.")
    return Moved(table=model._meta.label, rows=here[0], sha256=here[1])


@contextmanager
def _stored_times(model: type[models.Model]) -> Iterator[None]:
    """Keep stored times; Django would fill some columns with the time of copying."""
    columns = [one for one in model._meta.concrete_fields if getattr(one, "auto_now", False)
               or getattr(one, "auto_now_add", False)]
    before = [(one, one.auto_now, one.auto_now_add) for one in columns]
    for one in columns:
        one.auto_now = one.auto_now_add = False
    try:
        yield
    finally:
        for one, now, add in before:
            one.auto_now, one.auto_now_add = now, add


def _refuse_what_is_in_use() -> None:
    """Refuse a target that holds anything which is not here: another academy, or work done after a move."""
    for label, name in (("academy.Student", "code"), ("academy.Change", "code"), ("academy.Coach", "code")):
        rows = apps.get_model(label)._base_manager
        here = set(rows.using("default").values_list(name, flat=True))
        there = set(rows.using(TARGET).values_list(name, flat=True))
        if there - here:
            raise MoveError(
                f"The target holds {len(there - here)} rows of {label} that are not here: it is another academy, or "
                "somebody has worked there since. Nothing was moved."
            )


def _empty(tables: list[type[models.Model]]) -> None:
    names = ", ".join(connections[TARGET].ops.quote_name(model._meta.db_table) for model in tables)
    with connections[TARGET].cursor() as cursor:
        cursor.execute(f"TRUNCATE {names}")


def _reset_sequences(tables: list[type[models.Model]]) -> None:
    """Let the target count on from the highest row number."""
    with connections[TARGET].cursor() as cursor:
        for statement in connections[TARGET].ops.sequence_reset_sql(no_style(), tables):
            cursor.execute(statement)
