"""Taking a file into a lesson: look at it, decide how to read it, store it once, undo it whole.

The preview and the storing follow one plan (``import_plan``), so the two cannot differ.
"""

import hashlib
from dataclasses import asdict, dataclass, replace
from typing import Any

import numpy as np
from django.db import transaction
from django.utils import timezone

from academy.journal import journal
from academy.models import Coach
from lessons.imports.parse import Parsed
from lessons.imports.table import Table
from lessons.imports.types import ImportRefusal
from lessons.models import Block, DataSource, ImportBatch, Lesson
from lessons.models.batch import deflated

from .import_blocks import Target
from .import_choices import Choices
from .import_clock import comes_twice, moments_of, times_read
from .import_overlap import complete
from .import_plan import Plan, balls_in, plan_for
from .import_readings import forget, table_in, table_of
from .import_sources import first_choices, remember
from .shots import add_balls


@dataclass(frozen=True, kw_only=True)
class Outcome:
    """What storing did, or would do."""

    new: int
    already: int
    completed: int
    """Balls of a second device that completed stored ones."""
    overlap: str
    targets: tuple[Target, ...]
    parsed: Parsed
    twice: int = 0
    """Balls of an hour that came twice, because the clock was put back."""


def look_at(
    *, by: Coach | None, lesson: Lesson, data: bytes, filename: str, block: Block | None, sheet: str = "",
    encoding: str = "",
) -> ImportBatch:
    """Keep a file for looking at, with the reading that fits best. Raises ImportRefusal with a sentence."""
    name, digest = filename[-200:], hashlib.sha256(data).hexdigest()
    asked = Choices(sheet=sheet, encoding=encoding)
    table = table_in(lambda: data, digest=digest, filename=name, choices=asked)
    block = block or Block.objects.filter(lesson=lesson, removed_at__isnull=True).order_by("position").last()
    choices = replace(first_choices(table, lesson=lesson, block=block), sheet=sheet, encoding=encoding)
    return ImportBatch.objects.create(
        lesson=lesson, file_name=name, file_digest=digest, raw_deflated=deflated(data),
        reading=asdict(choices), created_by=by, source="file",
        data_source=DataSource.objects.filter(name=choices.source_name).first() if choices.source_name else None,
    )


def choices_of(batch: ImportBatch) -> Choices:
    """Return how the file is to be read."""
    return Choices(**batch.reading)


@transaction.atomic
def decide(*, batch: ImportBatch, choices: Choices) -> None:
    """Keep a person's decisions about a file that is not stored yet. Raises ImportRefusal for one that is."""
    locked = ImportBatch.objects.select_for_update().only("stored_at").get(pk=batch.pk)
    if locked.stored_at is not None:
        raise ImportRefusal(
            f"{batch.file_name} is stored as it was read. To read it another way, take its storing back in the "
            "lesson’s history first."
        )
    batch.reading = asdict(choices)
    batch.save(update_fields=["reading"])


def preview(*, batch: ImportBatch, table: Table) -> Outcome:
    """Return what storing would do; nothing is written. Raises ImportRefusal where it cannot be done."""
    return _outcome(plan_for(lesson=batch.lesson, table=table, choices=choices_of(batch)))


def store(*, by: Coach | None, batch: ImportBatch) -> Outcome | None:
    """Store the file's balls once; None where this file was stored already. Raises ImportRefusal."""
    # Before the transaction, because on SQLite every other writer waits for its end.
    table = table_of(batch)
    balls_in(table, choices_of(batch), batch.lesson)
    with transaction.atomic():
        locked = ImportBatch.objects.select_for_update(of=("self",)).select_related("lesson__student").get(pk=batch.pk)
        if locked.stored_at is not None:
            return None
        if locked.reading != batch.reading:
            table = table_of(locked)
        plan = plan_for(lesson=locked.lesson, table=table, choices=choices_of(locked))
        _carry_out(by, locked, plan)
        remember(by=by, batch=locked, table=table, choices=choices_of(locked))
    forget(locked)
    return _outcome(plan)


def _outcome(plan: Plan) -> Outcome:
    return Outcome(
        new=plan.new, already=plan.already, completed=len(plan.completion.balls) if plan.completion else 0,
        overlap=plan.overlap, targets=tuple(target for target, _ in plan.targets), parsed=plan.parsed,
        twice=sum(map(comes_twice, times_read(plan.parsed))),
    )


def _carry_out(by: Coach | None, batch: ImportBatch, plan: Plan) -> None:
    choices, lesson = choices_of(batch), batch.lesson
    sentence = f"{batch.file_name}: {plan.new} ball{'' if plan.new == 1 else 's'} taken in"
    with journal(by=by, student=lesson.student, lesson_code=lesson.code, sentence=sentence[:300]) as entry:
        if plan.completion is not None:
            complete(plan.completion, entry)
        for target, picked in plan.targets:
            if target.is_new:
                entry.insert(target.block)
            columns = _columns(plan.parsed, picked, choices)
            add_balls(by=by, block=target.block, columns=columns, batch=batch, source="file", entry=entry)
        entry.update(
            batch, stored_at=timezone.now(), balls=plan.new,
            problems=[problem.as_dict() for problem in plan.parsed.problems],
        )


def _columns(parsed: Parsed, picked: np.ndarray, choices: Choices) -> dict[str, list[Any]]:
    columns = {key: _or_none(values[picked]) for key, values in parsed.shots.items()}
    if "carry_m" in columns:
        columns["carry_provenance"] = ["" if carry is None else choices.provenance for carry in columns["carry_m"]]
    places = picked.tolist()
    columns["raw"] = [parsed.raw[place] for place in places]
    columns["hit_at"] = moments_of(parsed, places, choices.second_pass)
    return columns


def _or_none(values: np.ndarray) -> list[float | None]:
    missing = np.isnan(values)
    if not missing.any():
        return values.tolist()
    return np.where(missing, None, values).tolist()
