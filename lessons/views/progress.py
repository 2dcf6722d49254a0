"""The progress of a student: verdict first, pictures and table below."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_GET

from academy import access
from academy.models import Student
from lessons.charts.progress import progress_figure
from lessons.pictures import flight_top
from lessons.pictures.progress import draw, is_wide
from lessons.queries.progress.called import called_clubs, called_of
from lessons.queries.progress.page import category_label, progress_of
from lessons.queries.visits import quantities_of
from metrics.fields import FIELDS

CALLED = "called"
"""Stands for the number in the address where balls were called by eye."""


@require_GET
def progress(request: HttpRequest, code: Any) -> HttpResponse:
    """Show one number with one kind of club over all visits; the choice stands in the address."""
    student = access.owned_student_for(coach=request.user, code=code)
    system = request.user.units or request.academy.units
    clubs = called_clubs(student=student)
    category, _, what = request.GET.get("show", "").partition(":")
    found = None if what == CALLED else progress_of(student=student, wanted=request.GET.dict(), system=system)
    if found is None and clubs:
        return _called(request, student, category if category in dict(clubs) else clubs[0][0], clubs)
    context = {"student": student, "progress": found, "units": system}
    if found is not None:
        context |= {
            "pictures": [{"svg": draw(panel), "wide": is_wide(panel), "label": panel.label,
                          "figure": progress_figure(panel), "element": f"figure-{panel.key}"}
                         for panel in found.panels],
            "landings": [{"svg": flight_top.draw(one.view), "words": one.words} for one in found.landings],
            "options": [*_measured(found.choices), *_by_eye(clubs)],
            "chosen": f"{found.choice.category}:{found.choice.quantity}",
            "club": category_label(found.choice.category).lower(),
        }
    return render(request, "lessons/progress.html", context)


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
