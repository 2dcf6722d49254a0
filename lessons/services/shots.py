"""Storing balls. Each is stored the moment it is entered; the same key is stored once, however often sent."""

import uuid
from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from typing import Any

from django.core.exceptions import ValidationError
from django.db import connection, transaction
from django.db.models import Max
from django.utils import timezone

from academy.journal import Entry, journal
from academy.models import Coach
from lessons.models import Block, ImportBatch, Shot
from lessons.summaries import refresh
from metrics.fields import FIELDS

from .standing import follow

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
    with transaction.atomic():
        _lock(block)
        stored = Shot.objects.select_related("block").filter(key=key).first()
        if stored is not None:
            if stored.block.lesson_id != block.lesson_id:
                raise ValidationError("A ball with this key belongs to another lesson; it was not stored here.")
            return stored, False
        shot = Shot(
            block=block, key=key, number=_next_number(block), source=source, hit_at=hit_at or timezone.now(),
            **numbers, **calls,
        )
        with _journal(by=by, block=block, sentence=f"Ball {shot.number} of {block.club_name} added") as entry:
            entry.create(shot)
        refresh(block)
        follow(block.lesson)
    return shot, True


def add_balls(
    *, by: Coach | None, block: Block, rows: Sequence[Mapping[str, Any]], batch: ImportBatch | None = None,
    source: str = "file", entry: Entry | None = None,
) -> int:
    """Store many balls at once and return how many; rows map column names of Shot to values.

    Goes through ``executemany`` because the object path is fourteen times slower. Keys must be new; whoever
    calls has sorted out duplicates. With an open journal entry the balls become part of that change.
    """
    with transaction.atomic():
        _lock(block)
        keys = insert_rows(block=block, rows=rows, batch=batch, source=source, by=by, first=_next_number(block))
        pks = list(Shot.objects.filter(key__in=keys).values_list("pk", flat=True)) if keys else []
        if entry is not None:
            entry.note_created("lessons.shot", pks)
        elif pks:
            with _journal(by=by, block=block, sentence=f"{len(pks)} balls of {block.club_name} added") as own:
                own.note_created("lessons.shot", pks)
        refresh(block)
        follow(block.lesson)
    return len(pks)


def insert_rows(
    *, block: Block, rows: Iterable[Mapping[str, Any]], batch: ImportBatch | None, source: str,
    by: Coach | None, first: int,
) -> list[uuid.UUID]:
    """Insert shot rows with one prepared statement and return their keys. No transaction, no summary."""
    meta = Shot._meta
    fields = [f for f in meta.concrete_fields if not f.primary_key]
    now = timezone.now()
    fixed = {
        "block": block.pk, "batch": batch.pk if batch else None, "source": source, "created_at": now,
        "created_by": by.pk if by else None, "removed_at": None, "is_mishit": False, "contact": "",
        "excluded_reason": "", "carry_provenance": "", "raw": "", "hit_at": now,
    }
    plain = {f.name: f.name in FIELDS for f in fields}
    keys, values = [], []
    for offset, row in enumerate(rows):
        whole = {**fixed, "number": first + offset, "key": uuid.uuid4(), **row}
        keys.append(whole["key"])
        values.append([
            whole.get(f.name) if plain[f.name] else f.get_db_prep_save(whole.get(f.name), connection)
            for f in fields
        ])
    quote = connection.ops.quote_name
    columns = ", ".join(quote(f.column) for f in fields)
    marks = ", ".join(["%s"] * len(fields))
    with connection.cursor() as cursor:
        cursor.executemany(f"INSERT INTO {quote(meta.db_table)} ({columns}) VALUES ({marks})", values)
    return keys


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
    """Take turns on a block, so that two tabs never give two balls one number."""
    Block.objects.select_for_update().only("pk").get(pk=block.pk)


def _next_number(block: Block) -> int:
    return (Shot.objects.filter(block=block).aggregate(top=Max("number"))["top"] or 0) + 1


def _journal(*, by: Coach | None, block: Block, sentence: str):
    lesson = block.lesson
    return journal(by=by, student=lesson.student, lesson_code=lesson.code, sentence=sentence)
