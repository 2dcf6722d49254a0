"""The library as it counts here: shipped entries and the academy's own, with the overrides laid over them.

The files under ``fixtures/library`` are what is shipped; ``load_shipped`` puts them into the database, where the
academy's own entries stand beside them. An upgrade replaces shipped rows and never touches own rows or overrides.
"""

import hashlib
import json
from collections import Counter
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

from django.conf import settings
from django.db import transaction
from django.db.models import Q
from django.utils import timezone

from academy.models import Student
from metrics.checkpoints import CHECKPOINTS
from metrics.clubs import CATEGORIES
from metrics.rules.library import parse_library
from metrics.rules.overrides import OverrideError, layer
from metrics.rules.records import Library
from metrics.rules.types import Override as Laid

from .models import LibraryEntry, Override, Prepared
from .models.library import fingerprint

Kind = LibraryEntry.Kind
DOCUMENTS: dict[str, Kind] = {
    "patterns": Kind.PATTERN, "drills": Kind.DRILL, "setup_windows": Kind.WINDOW, "setup_effects": Kind.EFFECT,
    "body_cautions": Kind.CAUTION, "safety": Kind.SAFETY, "delivery_norms": Kind.NORM,
}
"""First part of a document's name -> the kind of its entries."""
_NAMES = {kind: name for name, kind in DOCUMENTS.items()}
_PARTS = ("slug", "key", "area", "club", "checkpoint", "quantity", "intent", "lie")
_KEPT = 3
_parsed: dict[str, Library] = {}


def load_shipped(folder: Path | None = None) -> dict[str, int]:
    """Check the shipped files and put them into the database; safe to run again.

    Own entries and overrides stay as they are; where an own entry has the slug of a shipped one, the own one
    counts. What is shipped no longer is retired, not deleted. Raises LibraryError, with nothing stored, where the
    files, or files and own entries together, do not fit. Five queries at most; one where all is there already.
    """
    documents = read_documents(folder)
    if (there := _counted_if_there(documents)) is not None:
        return there
    parse_library(documents=documents)  # files that do not fit are refused before anything is read
    with transaction.atomic():
        stored = {(row.kind, row.slug): row for row in LibraryEntry.objects.select_for_update()}
        own = {key: row.data for key, row in stored.items() if row.is_own and row.retired_at is None}
        taken = {key for key, row in stored.items() if row.is_own}
        wanted = {(kind, slug): data for kind, slug, data in _rows(documents) if (kind, slug) not in taken}
        parse_library(documents=_documents((kind, data) for (kind, _), data in [*wanted.items(), *own.items()]))
        changed = _store(wanted, stored) + _retire(wanted, stored)
    return _counted((kind for kind, _ in wanted), changed=changed)


def _counted_if_there(documents: dict[str, Any]) -> dict[str, int] | None:
    """Return the counts where the database holds exactly these entries and none of anybody's own. One query."""
    rows = LibraryEntry.objects.filter(Q(retired_at__isnull=True) | Q(is_own=True))
    stored = set(rows.values_list("kind", "slug", "title", "fingerprint", "is_own"))
    wanted = {(str(kind), slug, _title(kind, slug, data), fingerprint(kind=kind, slug=slug, data=data), False)
              for kind, slug, data in _rows(documents)}
    return _counted((kind for kind, *_ in wanted), changed=0) if stored == wanted else None


def _counted(kinds: Iterable[str], *, changed: int) -> dict[str, int]:
    found = Counter(str(kind) for kind in kinds)
    return {"patterns": found[Kind.PATTERN], "drills": found[Kind.DRILL], "changed": changed}


def read_documents(folder: Path | None = None) -> dict[str, Any]:
    """Read the shipped files; each document is named by its path in the folder. No database."""
    folder = folder or Path(settings.LIBRARY_DIR)
    return {path.relative_to(folder).with_suffix("").as_posix(): json.loads(path.read_text(encoding="utf-8"))
            for path in sorted(folder.rglob("*.json"))}


def shipped_library(folder: Path | None = None) -> Library:
    """Return the library as the shipped files say it, nobody's own values in it. No database."""
    return parse_library(documents=read_documents(folder))


def stored_library() -> Library:
    """Return the library without overrides. One query, and one more in a process that has not seen this content.

    The content's version is read from the database each time, so several processes never disagree. Before
    anything was loaded the library is what the shipped files say.
    """
    rows = LibraryEntry.objects.filter(retired_at__isnull=True).order_by("pk")
    marks = list(rows.values_list("fingerprint", flat=True))
    version = hashlib.sha256("".join(marks).encode()).hexdigest()
    if version not in _parsed:
        while len(_parsed) >= _KEPT:
            _parsed.pop(next(iter(_parsed)))
        stored = _documents(rows.values_list("kind", "data"))
        _parsed[version] = parse_library(documents=stored) if marks else shipped_library()
    return _parsed[version]


def current_library(student: Student | None = None) -> Library:
    """Return the library with the academy's overrides, and the student's own on top. Two queries."""
    library = stored_library()
    return layer(library=library, overrides=overrides_for(student, library=library))


def overrides_for(student: Student | None, *, library: Library) -> tuple[Laid, ...]:
    """Return the overrides in force as the rules read them. One query.

    One whose window or threshold is no longer in the library is left out, so that no lesson stops at it; the
    library pages list it.
    """
    rows = Override.objects.filter(removed_at__isnull=True).exclude(kind=Kind.SETTING)
    rows = rows.filter(Q(student__isnull=True) | Q(student=student)) if student else rows.filter(student=None)
    return tuple(laid for laid in map(as_laid, rows) if fits(laid, library=library))


def as_laid(row: Override) -> Laid:
    """Return an override as the rules read it. Without a flight it is laid over the windows of every flight."""
    return Laid(
        target=row.path, reason=row.reason, scope="player" if row.student_id else "academy",
        intent=row.value.get("intent"), lie=row.value.get("lie"), low=row.value.get("low"), high=row.value.get("high"),
        watch=row.value.get("watch"), strong=row.value.get("strong"),
    )


def fits(laid: Laid, *, library: Library) -> bool:
    """Say whether an override names something that the library has, with values that can stand."""
    try:
        layer(library=library, overrides=[laid])
    except OverrideError:
        return False
    return True


def entry_data(*, kind: str, slug: str) -> dict[str, Any]:
    """Return an entry as the files write it. One query. Raises KeyError for one that does not exist."""
    row = LibraryEntry.objects.filter(kind=kind, slug=slug, retired_at__isnull=True).first()
    if row is not None:
        return row.data
    shipped = shipped_data(kind=kind, slug=slug)
    if shipped is None:
        raise KeyError(f"the library has no {kind} {slug!r}")
    return shipped


def shipped_data(*, kind: str, slug: str) -> dict[str, Any] | None:
    """Return an entry as the shipped files write it; None where they have none. No database."""
    return next((data for k, s, data in _rows(read_documents()) if (k, s) == (kind, slug)), None)


def check_with_own(*, kind: str, slug: str, data: Any) -> None:
    """Raise LibraryError with a sentence where an own entry would not fit the library. One query."""
    rows = LibraryEntry.objects.filter(retired_at__isnull=True).exclude(kind=kind, slug=slug).order_by("pk")
    others = list(rows.values_list("kind", "data")) or [(kind, data) for kind, _, data in _rows(read_documents())]
    parse_library(documents=_documents([*others, (kind, data)]))


def check_without(*, kind: str, slug: str) -> None:
    """Raise LibraryError with a sentence where the library cannot do without an entry. One query."""
    rows = LibraryEntry.objects.filter(retired_at__isnull=True).exclude(kind=kind, slug=slug).order_by("pk")
    parse_library(documents=_documents(rows.values_list("kind", "data")))


def _documents(rows: Iterable[tuple[str, Any]]) -> dict[str, list[Any]]:
    documents: dict[str, list[Any]] = {name: [] for name in DOCUMENTS}
    for kind, data in rows:
        documents[_NAMES[Kind(kind)]].append(data)
    return documents


def _rows(documents: dict[str, Any]) -> Iterator[tuple[str, str, dict]]:
    """Yield kind, slug and data of every entry; the slug is made from what tells it from the others."""
    seen: set[tuple[str, str]] = set()
    for name, entries in documents.items():
        kind = DOCUMENTS[name.split("/")[0]]
        for data in entries:
            base = slug = ".".join(str(data[part]) for part in _PARTS if data.get(part))[:55]
            number = 1
            while (kind, slug) in seen:
                number += 1
                slug = f"{base}.{number}"
            seen.add((kind, slug))
            yield kind, slug, data


def _title(kind: str, slug: str, data: dict) -> str:
    if kind == Kind.WINDOW:
        extra = [word for word in (data.get("intent"), data.get("lie")) if word]
        point = CHECKPOINTS[data["checkpoint"]].label.lower()
        return ", ".join([CATEGORIES[data["club"]], point, *extra])
    return str(data.get("title") or data.get("name") or data.get("label") or data.get("trigger") or slug)[:160]


def _store(wanted: dict[tuple[str, str], dict], stored: dict[tuple[str, str], LibraryEntry]) -> int:
    fresh, changed = [], []
    for (kind, slug), data in wanted.items():
        values = {"title": _title(kind, slug, data), "data": data, "retired_at": None,
                  "fingerprint": fingerprint(kind=kind, slug=slug, data=data)}
        row = stored.get((kind, slug))
        if row is None:
            fresh.append(LibraryEntry(kind=kind, slug=slug, **values))
        elif any(getattr(row, name) != value for name, value in values.items()):
            for name, value in values.items():
                setattr(row, name, value)
            changed.append(row)
    LibraryEntry.objects.bulk_create(fresh)
    LibraryEntry.objects.bulk_update(changed, ["title", "data", "retired_at", "fingerprint"], batch_size=100)
    if fresh or changed:
        Prepared.objects.all().delete()  # what pages say of changes and their sizes may be another thing now
    return len(fresh) + len(changed)


def _retire(wanted: dict[tuple[str, str], dict], stored: dict[tuple[str, str], LibraryEntry]) -> int:
    gone = [row.pk for key, row in stored.items() if key not in wanted and not row.is_own and not row.retired_at]
    return LibraryEntry.objects.filter(pk__in=gone).update(retired_at=timezone.now())
