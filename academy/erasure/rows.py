"""Which rows are a person's: found by walking the models, so that a table added later is found too.

A row is the person's when a column of it points to the person or to another of their rows. A column that may be
empty and is emptied by Django itself (SET_NULL) only loses its content; a model that holds the person's words beside
such a column names it in ``erased_with``, and the row goes as well.
"""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path

from django.apps import apps
from django.conf import settings
from django.db import models
from django.db.models import Q
from django.db.models.functions import Cast

from academy.models import Guardian, Student

Keys = dict[type[models.Model], set]
AT_ONCE = 500
"""SQLite takes a limited number of values in one question."""


@dataclass(kw_only=True)
class Extent:
    """What is a person's: row keys by model, columns to empty, files."""

    keys: Keys = field(default_factory=lambda: defaultdict(set))
    emptied: list[tuple[models.Field, set]] = field(default_factory=list)
    files: list[Path] = field(default_factory=list)

    @property
    def rows(self) -> int:
        return sum(map(len, self.keys.values()))


def extent_of(student: Student) -> Extent:
    """Return everything that is this person's, guardians who stand for nobody else included."""
    found = Extent()
    _take(found, Student, {student.pk})
    for guardian in student.guardians.all():
        if guardian.students.count() == 1:
            _take(found, Guardian, {guardian.pk})
    found.files = _files_of(found)
    return found


def _take(found: Extent, model: type[models.Model], keys: set) -> None:
    fresh = keys - found.keys[model]
    if not fresh:
        return
    found.keys[model] |= fresh
    for pointing in pointing_to(model):
        owner = pointing.model
        rows = _where(owner, pointing.name, fresh)
        if pointing.null and pointing.name not in getattr(owner, "erased_with", ()) and _is_emptied(pointing):
            found.emptied.append((pointing, rows))
        else:
            _take(found, owner, rows)


def pointing_to(model: type[models.Model]) -> list[models.ForeignKey]:
    """Return every column of every table that points to this model."""
    return [
        column for owner in apps.get_models(include_auto_created=True) for column in owner._meta.concrete_fields
        if isinstance(column, models.ForeignKey) and column.related_model is model
    ]


def _is_emptied(column: models.ForeignKey) -> bool:
    return column.remote_field.on_delete is models.SET_NULL


def _where(model: type[models.Model], name: str, keys: set) -> set:
    found: set = set()
    for part in portions(keys):
        found |= set(model._base_manager.filter(**{f"{name}__in": part}).values_list("pk", flat=True))
    return found


def portions(keys: Iterable) -> Iterable[list]:
    """Yield the keys in portions a database takes at once."""
    listed = sorted(keys, key=str)
    for start in range(0, len(listed), AT_ONCE):
        yield listed[start:start + AT_ONCE]


def _files_of(found: Extent) -> list[Path]:
    """Return the media files that bear the code of one of the person's rows; that is how files are named here."""
    codes = set()
    for model, keys in found.keys.items():
        if any(column.name == "code" for column in model._meta.concrete_fields):
            for part in portions(keys):
                codes |= {str(code) for code in model._base_manager.filter(pk__in=part).values_list("code", flat=True)}
    root = Path(settings.MEDIA_ROOT)
    every = (path for path in root.rglob("*") if path.is_file()) if root.exists() else ()
    return sorted(path for path in every if path.name[:36] in codes or path.name[:32] in
                  {code.replace("-", "") for code in codes})


def mentions(terms: Iterable[str]) -> dict[str, int]:
    """Return table -> rows in whose texts one of the terms stands, over every table of the database."""
    wanted = [term for term in terms if term]
    found = {}
    for model in apps.get_models(include_auto_created=True):
        texts = [one for one in model._meta.concrete_fields
                 if isinstance(one, (models.CharField, models.TextField, models.JSONField))]
        hit = Q()
        for one in texts:
            for term in wanted:
                hit |= Q(**{f"said_{one.name}__icontains": term})
        if hit and model._meta.managed:
            said = {f"said_{one.name}": Cast(one.name, models.TextField()) for one in texts}
            if count := model._base_manager.annotate(**said).filter(hit).count():
                found[model._meta.label_lower] = count
    return found
