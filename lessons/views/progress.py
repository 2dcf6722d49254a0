"""The progress of a student: verdict first, pictures and table below."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_GET

from academy import access
from lessons.charts.progress import progress_figure
from lessons.pictures import flight_top
from lessons.pictures.progress import draw, is_wide
from lessons.queries.progress.page import category_label, progress_of
from metrics.fields import FIELDS


@require_GET
def progress(request: HttpRequest, code: Any) -> HttpResponse:
    """Show one number with one kind of club over all visits; the choice stands in the address."""
    student = access.owned_student_for(coach=request.user, code=code)
    system = request.user.units or request.academy.units
    found = progress_of(student=student, wanted=request.GET.dict(), system=system)
    context = {"student": student, "progress": found, "units": system}
    if found is not None:
        context |= {
            "pictures": [{"svg": draw(panel), "wide": is_wide(panel), "label": panel.label,
                          "figure": progress_figure(panel), "element": f"figure-{panel.key}"}
                         for panel in found.panels],
            "landings": [{"svg": flight_top.draw(one.view), "words": one.words} for one in found.landings],
            "options": [(f"{category}:{quantity}", f"{FIELDS[quantity].label}, {category_label(category).lower()}", n)
                        for category, quantity, n in found.choices],
            "chosen": f"{found.choice.category}:{found.choice.quantity}",
            "club": category_label(found.choice.category).lower(),
        }
    return render(request, "lessons/progress.html", context)
