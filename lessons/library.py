"""The library between its files, the database and the rules.

The shipped files under fixtures/library are read, checked as a whole, and stored row by row, so that an academy
can add its own entries and lay its own values over the shipped ones; an upgrade replaces shipped rows only.
"""

import json
from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any

from django.conf import settings
from django.db import transaction
from django.db.models import Max, Q
from django.utils import timezone

from academy.models import Student
from lessons.models import LibraryEntry
from lessons.models import Override as StoredOverride
from metrics.rules.library import parse_library
from metrics.rules.overrides import layer
from metrics.rules.records import Library
from metrics.rules.types import Override

KINDS: dict[str, str] = {
    "patterns": LibraryEntry.Kind.PATTERN, "drills": LibraryEntry.Kind.DRILL,
    "setup_windows": LibraryEntry.Kind.WINDOW, "setup_effects": LibraryEntry.Kind.EFFECT,
    "body_cautions": LibraryEntry.Kind.CAUTION, "safety": LibraryEntry.Kind.SAFETY,
    "delivery_norms": LibraryEntry.Kind.NORM,
}
"""Document of the library -> kind of its rows."""


def shipped_documents(folder: Path | None = None) -> dict[str, list[Any]]:
    """Return the shipped files by their path without the ending, as the parser takes them. No database."""
    folder = folder or settings.LIBRARY_DIR
    return {
        path.relative_to(folder).with_suffix("").as_posix(): json.loads(path.read_text(encoding="utf-8"))
        for path in sorted(folder.rglob("*.json"))
    }


def shipped_library() -> Library:
    """Return the shipped library, checked. No database."""
    return parse_library(documents=shipped_documents())


@transaction.atomic
def load_shipped() -> dict[str, int]:
    """Check the shipped library and store it; own entries stay, shipped ones that are gone are retired."""
    documents = shipped_documents()
    library = parse_library(documents=documents)
    stored = {(row.kind, row.slug): row for row in LibraryEntry.objects.filter(is_own=False)}
    own = set(LibraryEntry.objects.filter(is_own=True).values_list("kind", "slug"))
    changed, seen = 0, set()
    for name, rows in documents.items():
        kind = KINDS[name.split("/")[0]]
        for place, data in enumerate(rows):
            slug = _slug(kind, data, place)
            seen.add((kind, slug))
            if (kind, slug) in own:
                continue
            changed += _store(stored.get((kind, slug)), kind, slug, data)
    gone = [row.pk for key, row in stored.items() if key not in seen and row.retired_at is None]
    changed += LibraryEntry.objects.filter(pk__in=gone).update(retired_at=timezone.now())
    return {"patterns": len(library.patterns), "drills": len(library.drills), "changed": changed}


def current_library(*, student: Student | None = None) -> Library:
    """Return the library as it counts today: shipped and own entries, with the academy's and player's values.

    Two queries, and two more the first time after a change; the parsed library is kept by content version, which
    is read from the database each time, so several processes never disagree.
    """
    library = _parsed(*_version())
    own = Q(student__isnull=True) if student is None else Q(student__isnull=True) | Q(student=student)
    rows = StoredOverride.objects.filter(own, removed_at__isnull=True).order_by("pk")
    overrides = [as_override(row) for row in rows]
    return layer(library=library, overrides=overrides) if overrides else library


def as_override(row: StoredOverride) -> Override:
    """Return a stored override as the rules take it."""
    value: Mapping[str, Any] = row.value
    return Override(
        target=row.path, reason=row.reason, scope="player" if row.student_id else "academy",
        intent=value.get("intent"), low=value.get("low"), high=value.get("high"), watch=value.get("watch"),
        strong=value.get("strong"),
    )


def _version() -> tuple[int, int, str]:
    rows = LibraryEntry.objects.aggregate(last=Max("pk"), retired=Max("retired_at"), changed=Max("changed_at"))
    count = LibraryEntry.objects.filter(retired_at__isnull=True).count()
    return rows["last"] or 0, count, f"{rows['changed']} {rows['retired']}"


@lru_cache(maxsize=4)
def _parsed(last: int, count: int, changed: str) -> Library:
    documents: dict[str, list[Any]] = {name: [] for name in KINDS}
    names = {kind: name for name, kind in KINDS.items()}
    for row in LibraryEntry.objects.filter(retired_at__isnull=True).order_by("pk"):
        documents[names[row.kind]].append(row.data)
    return parse_library(documents=documents)


def _slug(kind: str, data: Mapping[str, Any], place: int) -> str:
    """Return what names an entry for good: its slug, or the parts that make it the only one of its kind."""
    parts = ("slug", "area", "key", "club", "checkpoint", "quantity", "intent", "lie", "step")
    if "slug" in data:
        return str(data["slug"])
    named = "/".join(str(data[part]) for part in parts if data.get(part) not in (None, ""))
    clubs = "+".join(data.get("clubs", []))
    return f"{named}/{clubs}"[:120].rstrip("/") or f"{kind}-{place}"


def _store(row: LibraryEntry | None, kind: str, slug: str, data: Mapping[str, Any]) -> int:
    title = str(data.get("title") or data.get("name") or data.get("label") or slug)[:160]
    if row is None:
        LibraryEntry.objects.create(kind=kind, slug=slug, title=title, data=data)
        return 1
    if row.data == data and row.title == title and row.retired_at is None:
        return 0
    row.data, row.title, row.retired_at, row.changed_at = data, title, None, timezone.now()
    row.save()
    return 1
