"""The academy's own values and entries: each with its reason, dated, undoable; shipped ones stay as they are."""

from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone

from academy.journal import journal
from academy.models import Coach, Student
from lessons.library import as_laid, check_with_own, check_without, load_shipped, shipped_data, stored_library
from lessons.models import LibraryEntry, Override
from lessons.own_settings import value_problem
from metrics.change.settings import SETTINGS
from metrics.checkpoints import CHECKPOINTS
from metrics.clubs import CATEGORIES
from metrics.rules.overrides import OverrideError, layer
from metrics.rules.reader import LibraryError
from metrics.rules.words import span


@transaction.atomic
def override_window(
    *, by: Coach, club: str, checkpoint: str, low: float, high: float, reason: str, intent: str | None = None,
    lie: str | None = None, student: Student | None = None,
) -> Override:
    """Lay an own window over the shipped one, for the academy or for one student, and return it.

    ``intent`` None = for every flight, "" = for the flights without a window of their own; ``lie`` None = from a tee
    and off the turf. An earlier one for the same thing is replaced. Raises ValidationError with a sentence.
    """
    value: dict[str, Any] = {"low": low, "high": high, **({} if intent is None else {"intent": intent}),
                             **({} if lie is None else {"lie": lie})}
    words = f"{CATEGORIES[club]}, {CHECKPOINTS[checkpoint].label.lower()}: {span(checkpoint, limits=(low, high))}"
    return _lay(by, Override(kind="window", slug=f"{club}/{checkpoint}", path=f"window/{club}/{checkpoint}",
                             value=value, reason=reason.strip(), student=student), words)


@transaction.atomic
def override_threshold(
    *, by: Coach, target: str, watch: float, strong: float | None, reason: str, student: Student | None = None,
) -> Override:
    """Lay an own threshold over a pattern's, and return it. Raises ValidationError with a sentence."""
    value = {"watch": watch, **({} if strong is None else {"strong": strong})}
    slug = target.split("/")[1] if target.count("/") == 3 else ""
    return _lay(by, Override(kind="pattern", slug=slug, path=target, value=value, reason=reason.strip(),
                             student=student), f"{slug}: from {watch:g}")


@transaction.atomic
def override_setting(*, by: Coach, key: str, value: float, reason: str) -> Override:
    """Let the academy's own value count in place of an assumed one, and return it.

    Raises ValidationError with a sentence for a value outside the setting's ends.
    """
    shipped = SETTINGS[key]
    problem = value_problem(key=key, value=value)
    if problem:
        raise ValidationError(problem)
    row = Override(kind="setting", slug=key, path=f"setting/{key}", value={"value": value}, reason=reason.strip())
    same = Override.objects.select_for_update().filter(path=row.path, removed_at__isnull=True)
    with journal(by=by, sentence=f"Own value: {shipped.label}, {value:g} {shipped.unit}".rstrip()[:300]) as entry:
        for earlier in same:
            entry.remove(earlier)
        entry.create(row)
    return row


def take_override_back(*, by: Coach, override: Override) -> None:
    """Let the shipped value count again; a second click changes nothing."""
    if override.removed_at is not None:
        return
    with journal(by=by, student=override.student, sentence=f"Own value taken back: {override.slug}") as entry:
        entry.remove(override)


def _lay(by: Coach, row: Override, words: str) -> Override:
    try:
        layer(library=stored_library(), overrides=[as_laid(row)])
    except OverrideError as error:
        raise ValidationError(str(error)) from error
    same = Override.objects.select_for_update().filter(
        path=row.path, student=row.student, removed_at__isnull=True
    )
    whose = f" for {row.student.name}" if row.student else ""
    with journal(by=by, student=row.student, sentence=f"Own value{whose}: {words}"[:300]) as entry:
        for earlier in same:
            if all(earlier.value.get(name) == row.value.get(name) for name in ("intent", "lie")):
                entry.remove(earlier)
        entry.create(row)
    return row


@transaction.atomic
def add_own_entry(*, by: Coach, kind: str, data: dict[str, Any]) -> LibraryEntry:
    """Add a drill or pattern of the academy's own. Raises ValidationError with what is wrong and where."""
    if not LibraryEntry.objects.exists():
        load_shipped()  # else the own entry would be the whole library
    if LibraryEntry.objects.filter(kind=kind, slug=data["slug"]).exists():
        raise ValidationError(f"“{data['slug']}” is in the library already; expected another name.")
    try:
        check_with_own(kind=kind, slug=data["slug"], data=data)
    except LibraryError as error:
        raise ValidationError(str(error)) from error
    title = data.get("title") or data.get("name") or data["slug"]
    entry_row = LibraryEntry(kind=kind, slug=data["slug"], title=title[:160], data=data, is_own=True)
    with journal(by=by, sentence=f"Own {kind} added: {title}"[:300]) as entry:
        entry.create(entry_row)
    return entry_row


@transaction.atomic
def replace_shipped(*, by: Coach, kind: str, data: dict[str, Any]) -> LibraryEntry:
    """Put an own entry in the place of the shipped one with its slug, so that all that names it means the own one.

    The shipped one stays in the files and comes back when the own one is taken out. Raises ValidationError.
    """
    if not LibraryEntry.objects.exists():
        load_shipped()
    row = LibraryEntry.objects.select_for_update().filter(kind=kind, slug=data["slug"]).first()
    if row is None or shipped_data(kind=kind, slug=row.slug) is None:
        raise ValidationError(f"“{data['slug']}” is not a shipped entry; expected one to put yours in place of.")
    try:
        check_with_own(kind=kind, slug=row.slug, data=data)
    except LibraryError as error:
        raise ValidationError(str(error)) from error
    title = (data.get("title") or data.get("name") or row.slug)[:160]
    with journal(by=by, sentence=f"Own {kind} in place of “{row.title}”: {title}"[:300]) as entry:
        entry.update(row, title=title, data=data, is_own=True, retired_at=None)
    return row


@transaction.atomic
def retire_own_entry(*, by: Coach, entry: LibraryEntry) -> None:
    """Take an own entry out of the library; what was given or found with it stays as it was.

    One that stood in the place of a shipped entry gives the place back. Raises ValidationError where another entry
    still names it.
    """
    shipped = shipped_data(kind=entry.kind, slug=entry.slug)
    if shipped is not None:
        title = (shipped.get("title") or shipped.get("name") or entry.slug)[:160]
        with journal(by=by, sentence=f"The shipped {entry.kind} counts again: {title}"[:300]) as change:
            change.update(entry, title=title, data=shipped, is_own=False)
        return
    try:
        check_without(kind=entry.kind, slug=entry.slug)
    except LibraryError as error:
        raise ValidationError(f"It is still needed. {error}") from error
    with journal(by=by, sentence=f"Own {entry.kind} taken out: {entry.title}"[:300]) as change:
        change.update(entry, retired_at=timezone.now())
