"""Storing balls. Each is stored the moment it is entered; the same key is stored once, however often sent."""

import os
import uuid
from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from itertools import repeat
from typing import Any

import numpy as np
from django.core.exceptions import ValidationError
from django.db import connection, transaction
from django.db.models import (
    BooleanField,
    CharField,
    DateTimeField,
    ForeignKey,
    IntegerField,
    Max,
    Q,
    TextField,
    UUIDField,
)
from django.utils import timezone

from academy.journal import Entry, journal
from academy.models import Coach
from lessons.models import Block, ImportBatch, Shot
from lessons.summaries import refresh
from metrics.fields import FIELDS

from .standing import follow

_USUAL = {"is_mishit": False, "contact": "", "excluded_reason": "", "carry_provenance": "", "raw": ""}
PLAIN = (CharField, TextField, BooleanField, IntegerField, ForeignKey)
"""Columns whose Python values every database takes as they are."""
_CALLS = ("called_start", "called_curve", "called_height", "contact")


def add_ball(
    *, by: Coach | None, block: Block, key: uuid.UUID, numbers: Mapping[str, float] | None = None,
    calls: Mapping[str, Any] | None = None, source: str = "typed", hit_at: datetime | None = None,
) -> tuple[Shot, bool]:
    """Store one ball and return it with whether it is new.

    A key that is already stored returns the stored ball unchanged: a double click, a second tab and a re-sent
    queue all end with one ball. Numbers outside what can occur are refused with a sentence.
    """
    numbers, calls = dict(numbers or {}), {k: v for k, v in (calls or {}).items() if v not in (None, "")}
    check_numbers(numbers)
    if not numbers and not calls:
        raise ValidationError("This ball has no number and no call; expected at least one.")
    with _journal(by=by, block=block) as entry:
        _lock(block)
        number, there = _next_number(block, key=key)
        if there:
            return _stored_before(key, block), False
        shot = Shot(
            block=block, key=key, number=number, source=source, hit_at=hit_at or timezone.now(), **numbers, **calls,
        )
        entry.sentence = f"Ball {number} of {block.club_name} added"
        entry.insert(shot)
        refresh(block)
        follow(block.lesson)
    return shot, True


def add_balls(
    *, by: Coach | None, block: Block, columns: Mapping[str, Sequence[Any]], batch: ImportBatch | None = None,
    source: str = "file", entry: Entry | None = None,
) -> int:
    """Store many balls at once and return how many; ``columns`` as in ``insert_columns``, or none at all.

    Goes through ``executemany`` because the object path is fourteen times slower. Keys must be new; whoever
    calls has sorted out duplicates. With an open journal entry the balls become part of that change.
    """
    if not columns or not len(next(iter(columns.values()))):
        return 0
    with transaction.atomic():
        _lock(block)
        first, _ = _next_number(block)
        insert_columns(block=block, columns=columns, batch=batch, source=source, by=by, first=first)
        pks = list(Shot.objects.present().filter(block=block, number__gte=first).values_list("pk", flat=True))
        if entry is not None:
            entry.note_created("lessons.shot", pks)
        elif pks:
            with _journal(by=by, block=block, sentence=f"{len(pks)} balls of {block.club_name} added") as own:
                own.note_created("lessons.shot", pks)
        refresh(block)
        follow(block.lesson)
    return len(pks)


def insert_columns(
    *, block: Block | None, columns: Mapping[str, Sequence[Any]], batch: ImportBatch | None, source: str,
    by: Coach | None, first: int,
) -> int:
    """Insert shots with one prepared statement and return how many. No transaction, no summary.

    ``columns`` maps column names of Shot to one value a ball; all are equally long, and what is left out gets its
    usual value. Balls of many blocks name the key of theirs in a column ``block``. Columns rather than rows, because
    a million balls are prepared as quickly as they are written.
    """
    count = len(next(iter(columns.values()), ()))
    now = timezone.now()
    usual = {
        **_USUAL, "block": block.pk if block else None, "batch": batch.pk if batch else None, "source": source,
        "created_by": by.pk if by else None, "created_at": now, "hit_at": now,
    }
    whole = {"number": range(first, first + count), **columns}
    fields = [field for field in Shot._meta.concrete_fields if not field.primary_key]
    prepared = [
        as_stored(field, whole[field.name]) if field.name in whole
        else _new_keys(count) if field.name == "key"
        else repeat(field.get_db_prep_save(usual.get(field.name), connection), count)
        for field in fields
    ]
    quote = connection.ops.quote_name
    names = ", ".join(quote(field.column) for field in fields)
    marks = ", ".join(["%s"] * len(fields))
    with connection.cursor() as cursor:
        cursor.executemany(
            f"INSERT INTO {quote(Shot._meta.db_table)} ({names}) VALUES ({marks})", zip(*prepared, strict=True)
        )
    return count


def _new_keys(count: int) -> list[str]:
    """Return random keys (UUID version 4) as the database takes them, a hundred times quicker than one by one."""
    drawn = np.frombuffer(os.urandom(16 * count), dtype=np.uint8).reshape(count, 16).copy()
    drawn[:, 6] = drawn[:, 6] & 0x0F | 0x40
    drawn[:, 8] = drawn[:, 8] & 0x3F | 0x80
    digits = drawn.tobytes().hex()
    return [digits[place : place + 32] for place in range(0, 32 * count, 32)]


def as_columns(rows: Sequence[Mapping[str, Any]]) -> dict[str, list[Any]]:
    """Return rows of balls as columns; what a row leaves out gets its usual value."""
    names = dict.fromkeys(name for row in rows for name in row)
    return {name: [row.get(name, _USUAL.get(name)) for row in rows] for name in names}


def insert_rows(*, rows: Iterable[Mapping[str, Any]], **where: Any) -> int:
    """Insert shots given as rows; see ``insert_columns``."""
    return insert_columns(columns=as_columns(list(rows)), **where)


def as_stored(field: Any, values: Sequence[Any]) -> Iterable[Any]:
    """Return a column as the database takes it; plain numbers, texts and keys of rows go as they are, moments and
    codes are the Python values that they should be already."""
    if field.name in FIELDS or isinstance(field, PLAIN):
        return values
    if isinstance(field, DateTimeField):
        return _moments(values)
    return [
        field.get_db_prep_value(value, connection, prepared=isinstance(field, UUIDField)) for value in values
    ]


def _moments(values: Sequence[datetime | None]) -> Sequence[datetime | str | None]:
    """Return moments as Django writes them, without its many questions about each."""
    if connection.vendor != "sqlite":
        return values
    zone = connection.timezone
    return [None if value is None else str(value.astimezone(zone).replace(tzinfo=None)) for value in values]


def change_ball(*, by: Coach, shot: Shot, **values: Any) -> Shot:
    """Correct a ball: numbers, calls, or the reason why it does not count."""
    check_numbers({name: value for name, value in values.items() if name in FIELDS})
    with _journal(by=by, block=shot.block, sentence=f"Ball {shot.number} corrected") as entry:
        entry.update(shot, **values)
        refresh(shot.block)
        follow(shot.block.lesson)
    return shot


def remove_ball(*, by: Coach, shot: Shot) -> None:
    """Take a ball out of view, undoable."""
    with _journal(by=by, block=shot.block, sentence=f"Ball {shot.number} taken out") as entry:
        entry.remove(shot)
        refresh(shot.block)
        follow(shot.block.lesson)


def check_numbers(numbers: Mapping[str, float | None]) -> None:
    """Raise ValidationError naming each number that cannot be what it says it is."""
    problems = []
    for key, value in numbers.items():
        if value is None:
            continue
        spec = FIELDS.get(key)
        if spec is None:
            problems.append(f"“{key}” is not a quantity of a ball.")
        elif not spec.lower <= value <= spec.upper:  # also false for NaN
            problems.append(
                f"{spec.label}: {value:g} {spec.unit} was found; "
                f"expected {spec.lower:g} to {spec.upper:g} {spec.unit}."
            )
    if problems:
        raise ValidationError(problems)


def _lock(block: Block) -> None:
    """Take turns on a block, so that two tabs never give two balls one number. SQLite's transactions take turns
    from their beginning, see DATABASES."""
    if connection.features.has_select_for_update:
        Block.objects.select_for_update().only("pk").get(pk=block.pk)


def _next_number(block: Block, *, key: uuid.UUID | None = None) -> tuple[int, bool]:
    """Return the number of the block's next ball, and whether a ball with this key is stored anywhere. One query.

    A ball that was taken back gives its number free: the list counts on without a gap.
    """
    here = Q(block=block, removed_at__isnull=True)
    found = Shot.objects.filter(here | Q(key=key)).aggregate(
        top=Max("number", filter=here), there=Max("pk", filter=Q(key=key))
    )
    return (found["top"] or 0) + 1, found["there"] is not None


def _stored_before(key: uuid.UUID, block: Block) -> Shot:
    stored = Shot.objects.select_related("block").get(key=key)
    if stored.block.lesson_id != block.lesson_id:
        raise ValidationError("A ball with this key belongs to another lesson; it was not stored here.")
    return stored


def _journal(*, by: Coach | None, block: Block, sentence: str = ""):
    lesson = block.lesson
    return journal(by=by, student=lesson.student, lesson_code=lesson.code, sentence=sentence)
