"""SQLite without the program: the same finished rows, the same file, the same pragmas."""

import sqlite3
from typing import Any

PRAGMAS = ("journal_mode", "synchronous", "foreign_keys", "cache_size")


def connect() -> sqlite3.Connection:
    """Return a bare connection to the program's database, set as the program sets its own."""
    from django.conf import settings
    from django.db import connection

    raw = sqlite3.connect(str(settings.DATABASES["default"]["NAME"]), isolation_level=None)
    for pragma in PRAGMAS:
        with connection.cursor() as cursor:
            value = cursor.execute(f"PRAGMA {pragma}").fetchone()[0]
        raw.execute(f"PRAGMA {pragma} = {value}")
    return raw


def finished_rows(*, block: Any, columns: dict) -> tuple[str, list[tuple]]:
    """Return the statement and the rows of balls as they lie in the database; nothing is left in it."""
    from django.db import connection, transaction

    from lessons.models import Shot
    from lessons.services.shots import insert_columns

    names = [field.column for field in Shot._meta.concrete_fields if not field.primary_key]
    with transaction.atomic():
        insert_columns(block=block, columns=columns, batch=None, source="file", by=None, first=1)
        with connection.cursor() as cursor:
            cursor.execute(f"SELECT {', '.join(names)} FROM {Shot._meta.db_table} WHERE block_id = %s", [block.pk])
            rows = cursor.fetchall()
        transaction.set_rollback(True)
    marks = ", ".join("?" * len(names))
    return f"INSERT INTO {Shot._meta.db_table} ({', '.join(names)}) VALUES ({marks})", rows


def write(raw: sqlite3.Connection, statement: str, rows: list[tuple]) -> None:
    """Write the rows in one transaction and take them back."""
    raw.execute("BEGIN IMMEDIATE")
    raw.executemany(statement, rows)
    raw.execute("ROLLBACK")
