"""Clinics: stations laid out, kept as the academy's own template, and one observation a person."""

from typing import Any

from django.db import transaction

from academy.journal import journal
from academy.models import Coach
from lessons.models import GroupClass, PlanTemplate
from lessons.queries.clinics import people_of


def lay_out(*, by: Coach, group: GroupClass, stations: list[dict[str, Any]], said: str = "Stations changed") -> None:
    """Store what is laid out for a class."""
    with journal(by=by, lesson_code=group.code, sentence=f"{said}: {group.name}") as entry:
        entry.update(group, stations=stations)


def keep_template(*, by: Coach, title: str, stations: list[dict[str, Any]], copied_from: str) -> PlanTemplate:
    """Keep stations as the academy's own template; one of that name is replaced, the old one stays in the record."""
    with transaction.atomic(), journal(by=by, sentence=f"Template kept: {title}") as entry:
        rows = PlanTemplate.objects.select_for_update().filter(kind=PlanTemplate.Kind.GROUP, removed_at__isnull=True)
        for old in rows.filter(title__iexact=title):
            entry.remove(old)
        made = PlanTemplate(
            kind=PlanTemplate.Kind.GROUP, title=title, body={"stations": stations}, copied_from=copied_from[:60])
        entry.create(made)
    return made


def retire_template(*, by: Coach, template: PlanTemplate) -> None:
    """Take a template out of the list; classes laid out from it stay as they are."""
    with journal(by=by, sentence=f"Template taken out: {template.title}") as entry:
        entry.remove(template)


def put_template_back(*, by: Coach, template: PlanTemplate) -> None:
    """Bring a template back."""
    with journal(by=by, sentence=f"Template put back: {template.title}") as entry:
        entry.update(template, removed_at=None)


def note_observations(*, by: Coach, group: GroupClass, said: dict[str, str]) -> int:
    """Store one observation a person, by the lesson's code, for the student to read; return how many changed."""
    changed = 0
    with journal(by=by, lesson_code=group.code, sentence=f"Observations of {group.name}") as entry:
        for lesson in people_of(group):
            words = said.get(str(lesson.code))
            if words is not None and words != lesson.student_note:
                entry.update(lesson, student_note=words)
                changed += 1
    return changed
