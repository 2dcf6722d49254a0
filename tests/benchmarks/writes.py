"""Storing the balls of a large import against SQLite's own fastest way of storing the same rows."""

from collections.abc import Iterator

from . import raw
from .figure import Figure, seconds
from .ground import lay
from .rows import a_student, shot_columns

_MANY = 100_000


def run() -> Iterator[Figure]:
    """Yield the share of raw ``executemany`` that our way of writing reaches."""
    lay()
    from django.db import transaction

    from lessons.services.shots import insert_columns
    from tests import factories

    block = factories.make_block(lesson=factories.make_lesson(student=a_student()))
    columns = shot_columns(count=_MANY, seed=3)

    def ours() -> None:
        with transaction.atomic():
            insert_columns(block=block, columns=columns, batch=None, source="file", by=None, first=1)
            transaction.set_rollback(True)

    statement, rows = raw.finished_rows(block=block, columns=columns)
    connection = raw.connect()
    work, least = seconds(ours, lambda: raw.write(connection, statement, rows), repeats=3)
    connection.close()
    yield Figure(
        what="100,000 balls stored", ours=work, floor=least, unit="s", limit=1 / 0.7, direction="at most",
        why="raw sqlite3 executemany of the same finished rows, same pragmas, both rolled back; 1/0.7 is 70 % of it.",
    )
