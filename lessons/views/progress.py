"""The progress of a student: verdict first, pictures and table below."""

from datetime import datetime
from typing import Any

from django.core.serializers.json import DjangoJSONEncoder
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.template.loader import render_to_string
from django.utils import timezone
from django.utils.html import json_script
from django.views.decorators.http import require_GET

from academy import access
from academy.models import Student
from lessons.charts.progress import progress_figure
from lessons.pictures import flight_top
from lessons.pictures.progress import draw, is_wide
from lessons.queries.prepared import prepared
from lessons.queries.progress.called import called_clubs, called_of
from lessons.queries.progress.page import category_label, progress_of
from lessons.queries.visits import quantities_of
from metrics.clubs import CATEGORIES
from metrics.fields import FIELDS
from metrics.units import System

CALLED = "called"
"""Stands for the number in the address where balls were called by eye."""
NEWEST = 12
"""So many blocks stand in the table when the page opens; the others are a tap away."""


@require_GET
def progress(request: HttpRequest, code: Any) -> HttpResponse:
    """Show one number with one kind of club over all visits; the choice stands in the address."""
    student = access.owned_student_for(coach=request.user, code=code)
    system = request.user.units or request.academy.units
    asked = request.GET.dict()
    category, _, what = asked.get("show", "").partition(":")
    page = {} if what == CALLED else _page(student, asked, system)
    clubs = [] if page else called_clubs(student=student)
    if clubs:
        return _called(request, student, category if category in dict(clubs) else clubs[0][0], clubs)
    return render(request, "lessons/progress.html", {"student": student, "page": page})


def _page(student: Student, asked: dict[str, str], system: System) -> dict[str, str]:
    """Return the parts of the page, none where no ball has a number.

    Those that it opens with are kept until something is written.
    """
    if asked.keys() - {"show"}:
        return _made(student, asked, system)
    category, _, quantity = asked.get("show", "").partition(":")
    known = category in CATEGORIES and quantity in FIELDS
    return prepared(
        student=student, name=f"progress {category}:{quantity}" if known else "progress", rests_on=(system,),
        make=lambda: _made(student, asked, system),
    )


def _made(student: Student, asked: dict[str, str], system: System) -> dict[str, str]:
    """Draw the parts of the page: what it is about, its body, and the figures that are drawn when they are opened."""
    found = progress_of(student=student, wanted=asked, system=system)
    if found is None:
        return {}
    club = category_label(found.choice.category).lower()
    rows = found.rows if asked.keys() - {"show"} else found.rows[-NEWEST:]
    context = {
        "progress": found, "units": system, "rows": rows, "older": len(found.rows) - len(rows),
        "pictures": [{"svg": draw(panel), "wide": is_wide(panel), "label": panel.label,
                      "figure": progress_figure(panel), "element": f"figure-{panel.key}"} for panel in found.panels],
        "landings": [{"svg": flight_top.draw(one.view), "words": one.words} for one in found.landings],
        "options": [*_measured(found.choices), *_by_eye(called_clubs(student=student))],
        "chosen": f"{found.choice.category}:{found.choice.quantity}",
    }
    return {
        "about": f"{found.label.lower()}, {club}. {_last_visit(found.last_visit, found.days_since)}".rstrip(),
        "main": render_to_string("lessons/progress/_main.html", context),
        "figures": "".join(json_script(one["figure"], one["element"], encoder=Tight) for one in context["pictures"]),
    }


class Tight(DjangoJSONEncoder):
    """JSON without blanks."""

    def __init__(self, **how: Any) -> None:
        super().__init__(**how | {"separators": (",", ":")})


def _last_visit(at: datetime | None, days: int | None) -> str:
    if at is None or days is None:
        return ""
    ago = "today" if days == 0 else f"{days} day{'' if days == 1 else 's'} ago"
    return f"Last visit {timezone.localtime(at):%-d %b %Y}, {ago}."


def _called(request: HttpRequest, student: Student, category: str, clubs: list[tuple[str, int]]) -> HttpResponse:
    """Show what balls called by eye say with one kind of club."""
    options = [*_measured(quantities_of(student=student)), *_by_eye(clubs)]
    context = {"student": student, "called": called_of(student=student, category=category), "options": options,
               "chosen": f"{category}:{CALLED}", "club": category_label(category).lower()}
    return render(request, "lessons/progress_called.html", context)


def _measured(choices: list[tuple[str, str, int]]) -> list[tuple[str, str, int]]:
    return [(f"{category}:{quantity}", f"{FIELDS[quantity].label}, {category_label(category).lower()}", n)
            for category, quantity, n in choices]


def _by_eye(clubs: list[tuple[str, int]]) -> list[tuple[str, str, int]]:
    return [(f"{category}:{CALLED}", f"Contact by eye, {category_label(category).lower()}", n)
            for category, n in clubs]
