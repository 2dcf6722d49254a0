"""Readings that are remembered: a source's file is read as it was read before, and no name is taken over unasked."""

from academy.models import Coach
from lessons.imports.fingerprint import KnownSource, columns_from_json, fingerprint, recognise
from lessons.imports.suggest import Proposal, as_mapping, propose
from lessons.imports.table import Table
from lessons.imports.types import ImportRefusal
from lessons.models import Block, DataSource, ImportBatch, Lesson

from .import_choices import Choices
from .import_readings import kept_beside


def known(source: DataSource) -> KnownSource:
    """Return a source as the reader of files knows it."""
    return KnownSource(
        key=str(source.pk), fingerprint=source.headings_fingerprint, columns=columns_from_json(source.columns)
    )


def proposal_of(table: Table, choices: Choices) -> Proposal:
    """Return the suggested columns with a person's own in front."""
    given = choices.matches if choices.confirmed else None
    return kept_beside(table, ("proposal", repr(given)), lambda: propose(table, given=given))


def first_choices(table: Table, *, lesson: Lesson, block: Block | None) -> Choices:
    """Read a file the way its source was read before; a file from nowhere known gets the best guess."""
    sources = list(DataSource.objects.exclude(columns={}))
    seen = recognise(table, [known(source) for source in sources])
    wanted = str(block.code) if block else ""
    if seen is None:
        return Choices(columns=dict(as_mapping(proposal_of(table, Choices()).columns)), block=wanted)
    source = next(source for source in sources if str(source.pk) == seen.source.key)
    return Choices(
        columns=dict(as_mapping(seen.columns)), file_sign=source.file_sign, date_order=source.date_format,
        provenance=source.carry_provenance, source_name=source.name, block=wanted, confirmed=True,
        club_names=source.club_names,
    )


def other_reading(*, name: str, table: Table, choices: Choices) -> DataSource | None:
    """Return the source of this name whose files have other headings than this one; None where nothing is lost by
    remembering the reading under it. One query."""
    source = DataSource.objects.select_related("created_by").exclude(columns={}).filter(name=name).first()
    if source is None or choices.replaces or recognise(table, [known(source)]) is not None:
        return None
    return source


def taken_words(source: DataSource) -> str:
    """Say whose reading would be lost."""
    headings = ", ".join(f"“{match['heading']}”" for match in list(source.columns.values())[:4])
    who = f", added by {source.created_by}," if source.created_by else ""
    return (
        f"“{source.name}”{who} is remembered with other headings: {headings}. Choose another name, or say that its "
        "files look like this one from now on."
    )


def remember(*, by: Coach | None, batch: ImportBatch, table: Table, choices: Choices) -> None:
    """Keep the matched columns under the source's name, so that the next file needs no matching."""
    if not choices.source_name:
        return
    other = other_reading(name=choices.source_name, table=table, choices=choices)
    if other is not None:
        raise ImportRefusal(taken_words(other))
    read = {
        "columns": dict(as_mapping(proposal_of(table, choices).columns)), "file_sign": choices.file_sign,
        "headings_fingerprint": fingerprint(table), "date_format": choices.date_order,
        "carry_provenance": choices.provenance, "club_names": choices.club_names,
    }
    source, _ = DataSource.objects.update_or_create(
        name=choices.source_name, defaults=read, create_defaults={**read, "created_by": by}
    )
    ImportBatch.objects.filter(pk=batch.pk).update(data_source=source)
    Lesson.objects.filter(pk=batch.lesson_id, device__isnull=True).update(device=source)
