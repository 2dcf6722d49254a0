"""Taking a file into a lesson: look at it, decide how to read it, store it once, undo it whole.

The preview is the storing itself, rolled back, so the two cannot differ.
"""

import hashlib
from collections.abc import Mapping
from dataclasses import asdict, dataclass, replace
from typing import Any

import numpy as np
from django.db import transaction
from django.utils import timezone

from academy.journal import Entry, journal
from academy.models import Coach
from lessons.imports.gaps import propose_blocks
from lessons.imports.parse import Parsed, parse
from lessons.imports.reader import read_table
from lessons.imports.table import Table, with_corrections
from lessons.imports.types import ColumnMatch, ImportRefusal
from lessons.models import Block, DataSource, ImportBatch, Lesson
from lessons.models.batch import deflated

from .import_blocks import Target, target_for
from .import_choices import Choices
from .import_clock import comes_twice, moments_of, times_read
from .import_overlap import fill_from_second_device, overlap_with_stored
from .import_sources import first_choices, proposal_of, remember
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


class _RolledBack(Exception):
    def __init__(self, outcome: Outcome) -> None:
        self.outcome = outcome


def look_at(
    *, by: Coach | None, lesson: Lesson, data: bytes, filename: str, block: Block | None, sheet: str = "",
    encoding: str = "",
) -> ImportBatch:
    """Keep a file for looking at, with the reading that fits best. Raises ImportRefusal with a sentence."""
    table = read_table(data, filename=filename, sheet=sheet or None, encoding=encoding or None)
    block = block or Block.objects.filter(lesson=lesson, removed_at__isnull=True).order_by("position").last()
    choices = replace(first_choices(table, lesson=lesson, block=block), sheet=sheet, encoding=encoding)
    return ImportBatch.objects.create(
        lesson=lesson, file_name=filename[-200:], file_digest=hashlib.sha256(data).hexdigest(),
        raw_deflated=deflated(data), reading=asdict(choices), created_by=by, source="file",
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


def table_of(batch: ImportBatch) -> Table:
    """Return the file's table with the rows that were corrected by hand. Raises ImportRefusal."""
    choices = choices_of(batch)
    table = read_table(
        batch.raw, filename=batch.file_name, decimal=choices.decimal or None, sheet=choices.sheet or None,
        encoding=choices.encoding or None,
    )
    corrections = {int(line): text for line, text in choices.corrections.items()}
    return with_corrections(table, corrections) if corrections else table


def preview(*, by: Coach, batch: ImportBatch, table: Table) -> Outcome:
    """Return what storing would do: it is done and rolled back. Raises ImportRefusal where it cannot be done."""
    # A copy, because what is rolled back in the database would stay on the object.
    copy = ImportBatch.objects.select_related("lesson__student").get(pk=batch.pk)
    try:
        with transaction.atomic():
            raise _RolledBack(_store(by=by, batch=copy, table=table))
    except _RolledBack as done:
        return done.outcome


@transaction.atomic
def store(*, by: Coach | None, batch: ImportBatch) -> Outcome | None:
    """Store the file's balls once; None where this file was stored already. Raises ImportRefusal."""
    batch = ImportBatch.objects.select_for_update(of=("self",)).select_related("lesson__student").get(pk=batch.pk)
    if batch.stored_at is not None:
        return None
    table = table_of(batch)
    outcome = _store(by=by, batch=batch, table=table)
    remember(by=by, batch=batch, table=table, choices=choices_of(batch))
    return outcome


def _store(*, by: Coach | None, batch: ImportBatch, table: Table) -> Outcome:
    choices, lesson = choices_of(batch), batch.lesson
    parsed = _parsed(table, choices, lesson)
    match, overlap = _overlap(lesson, parsed, choices)
    fresh = np.flatnonzero(match < 0)
    sentence = f"{batch.file_name}: {len(fresh)} ball{'' if len(fresh) == 1 else 's'} taken in"
    with journal(by=by, student=lesson.student, lesson_code=lesson.code, sentence=sentence[:300]) as entry:
        completed = 0
        if len(fresh) == parsed.balls and not choices.apart:
            completed, fresh = fill_from_second_device(lesson=lesson, parsed=parsed, entry=entry)
        targets = _store_balls(by, batch, choices, parsed, fresh, entry)
        entry.update(
            batch, stored_at=timezone.now(), balls=len(fresh),
            problems=[problem.as_dict() for problem in parsed.problems],
        )
    return Outcome(
        new=len(fresh), already=int((match >= 0).sum()), completed=completed, overlap=overlap,
        targets=tuple(targets), parsed=parsed, twice=sum(map(comes_twice, times_read(parsed))),
    )


def _overlap(lesson: Lesson, parsed: Parsed, choices: Choices) -> tuple[np.ndarray, str]:
    if choices.apart:
        return np.full(parsed.balls, -1), f"{parsed.balls} taken as other balls than the stored ones"
    return overlap_with_stored(lesson=lesson, parsed=parsed)


def _store_balls(
    by: Coach | None, batch: ImportBatch, choices: Choices, parsed: Parsed, fresh: np.ndarray, entry: Entry
) -> list[Target]:
    """Store the new balls, a block for each stretch of one club without a long pause."""
    if not len(fresh):
        return []
    when = None if parsed.when is None else parsed.when[fresh]
    stretches = propose_blocks([parsed.clubs[i] for i in fresh], [parsed.categories[i] for i in fresh], when)
    targets: list[Target] = []
    for stretch in stretches:
        target = target_for(
            by=by, lesson=batch.lesson, stretch=stretch, wanted=choices.block, before=targets, entry=entry
        )
        columns = _columns(parsed, fresh[stretch.start:stretch.stop], choices)
        add_balls(by=by, block=target.block, columns=columns, batch=batch, source="file", entry=entry)
        targets.append(replace(target, balls=stretch.stop - stretch.start))
    return targets


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


def rows_after(parsed: Parsed, line: int) -> Parsed:
    """Return the balls and problems that stand below a line of the file; all of them below line 0."""
    if not line:
        return parsed
    kept = np.flatnonzero(parsed.lines > line)
    return replace(
        parsed, lines=parsed.lines[kept], shots={key: values[kept] for key, values in parsed.shots.items()},
        raw=[parsed.raw[i] for i in kept], clubs=[parsed.clubs[i] for i in kept],
        categories=[parsed.categories[i] for i in kept], when=None if parsed.when is None else parsed.when[kept],
        problems=tuple(problem for problem in parsed.problems if problem.row > line),
        broken={row: text for row, text in parsed.broken.items() if row > line},
    )


def _parsed(table: Table, choices: Choices, lesson: Lesson) -> Parsed:
    block = Block.objects.filter(lesson=lesson, code=choices.block).first() if choices.block else None
    columns: Mapping[str, ColumnMatch] = proposal_of(table, choices).columns
    return rows_after(parse(
        table, columns=columns, hand=lesson.student.hand, file_sign=choices.file_sign,
        club=choices.club or (block.club_name if block else None), player=choices.player or None,
        date_order=choices.date_order or None,
        club_names={**({block.club_name: block.category} if block else {}), **choices.club_names},
    ), choices.after_line)


