"""Storing the balls of a large import against SQLite's own fastest way of storing the same rows."""

import sqlite3
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from .figure import Figure, seconds
from .ground import lay
from .rows import a_student, shot_columns

_MANY = 100_000


def run() -> Iterator[Figure]:
    """Yield the share of raw ``executemany`` that our way of writing reaches."""
    lay()
    from django.conf import settings
    from django.db import connection, transaction

    from lessons.models import Shot
    from lessons.services.shots import insert_columns
    from tests import factories

    block = factories.make_block(lesson=factories.make_lesson(student=a_student()))
    columns = shot_columns(count=_MANY, seed=3)
    table = Shot._meta.db_table

    def ours() -> None:
        with transaction.atomic():
            insert_columns(block=block, columns=columns, batch=None, source="file", by=None, first=1)
            transaction.set_rollback(True)

    ours_first = _rows_as_stored(block, columns)
    raw = sqlite3.connect(Path(settings.DATABASES["default"]["NAME"]), isolation_level=None)
    _same_pragmas(raw, connection)
    names, rows = ours_first
    statement = f"INSERT INTO {table} ({', '.join(names)}) VALUES ({', '.join('?' * len(names))})"

    def floor() -> None:
        raw.execute("BEGIN IMMEDIATE")
        raw.executemany(statement, rows)
        raw.execute("ROLLBACK")

    work, least = seconds(ours, floor, repeats=3)
    raw.close()
    yield Figure(
        what="100,000 balls stored", ours=work, floor=least, unit="s", limit=1 / 0.7, direction="at most",
        why="raw sqlite3 executemany of the same finished rows, same pragmas, both rolled back; 1/0.7 is 70 % of it.",
    )


def _rows_as_stored(block: Any, columns: dict) -> tuple[list[str], list[tuple]]:
    """Return the rows as they lie in the database, with their column names."""
    from django.db import connection, transaction

    from lessons.models import Shot
    from lessons.services.shots import insert_columns

    names = [field.column for field in Shot._meta.concrete_fields if not field.primary_key]
    with transaction.atomic():
        insert_columns(block=block, columns=columns, batch=None, source="file", by=None, first=1)
        with connection.cursor() as cursor:
            cursor.execute(f"SELECT {', '.join(names)} FROM {Shot._meta.db_table}")
            rows = cursor.fetchall()
        transaction.set_rollback(True)
    return names, rows


def _same_pragmas(raw: sqlite3.Connection, connection: Any) -> None:
    for pragma in ("journal_mode", "synchronous", "foreign_keys", "cache_size"):
        with connection.cursor() as cursor:
            value = cursor.execute(f"PRAGMA {pragma}").fetchone()[0]
        raw.execute(f"PRAGMA {pragma} = {value}")

