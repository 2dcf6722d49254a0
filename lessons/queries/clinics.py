"""A class as a clinic: what is laid out, the templates there are, and one observation a person for its coach."""

from typing import Any

from academy.models import Coach
from lessons.models import GroupClass, Lesson, PlanTemplate
from metrics.plans.clinics import CLINICS, MOST_STATIONS, stations_for


def clinic_page(*, group: GroupClass, reader: Coach) -> dict[str, Any]:
    """Return the stations with empty rows to fill, the templates, and for the class's own coach who came.

    Two queries at most.
    """
    rows = [*group.stations, *({} for _ in range(MOST_STATIONS - len(group.stations)))]
    return {
        "group": group, "rows": rows, "planned_minutes": sum(row["minutes"] for row in group.stations),
        "shipped": list(CLINICS.values()), "own": own_templates(),
        "people": people_of(group) if reader.pk == group.coach_id else None,
    }


def own_templates() -> list[PlanTemplate]:
    """Return the academy's own templates of classes. One query."""
    return list(PlanTemplate.objects.filter(kind=PlanTemplate.Kind.GROUP, removed_at__isnull=True))


def people_of(group: GroupClass) -> list[Lesson]:
    """Return the lessons of those who are registered and did not stay away, by name. One query."""
    away = (Lesson.Status.CANCELLED, Lesson.Status.NO_SHOW)
    rows = Lesson.objects.filter(booking__group=group).exclude(status__in=away)
    return list(rows.select_related("student").order_by("student__name"))


def template_stations(name: str, *, minutes: int) -> tuple[list[dict[str, Any]], str] | None:
    """Return the stations of a template and what they were copied from; None where there is no such template.

    ``name`` is "shipped:" with a slug, or "own:" with a code. One query at most.
    """
    kind, _, key = name.partition(":")
    if kind == "shipped" and key in CLINICS:
        return stations_for(clinic=CLINICS[key], minutes=minutes), name
    found = next((one for one in own_templates() if kind == "own" and str(one.code) == key), None)
    return (found.body["stations"], name) if found else None
