"""The academy's figures: each with its definition, its counts and the list behind it."""

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_GET

from academy.access import require_roster
from lessons.queries.academy import export
from lessons.queries.academy import page as queries
from lessons.queries.academy.world import world
from lessons.queries.diary import coaches_of

TABLES = {"figures": export.figures_csv, "cohorts": export.cohorts_csv, "spread": export.spread_csv}


@require_GET
def figures(request: HttpRequest) -> HttpResponse:
    """Show the figures; filters and the list that is open stand in the address."""
    require_roster(coach=request.user)
    found = world(coach=request.user, filters=queries.filters_from(request.GET), now=timezone.now())
    context = queries.page(world=found, viewer=request.user, coaches=coaches_of(request.user), asked=request.GET)
    return render(request, "lessons/figures.html", context)


@require_GET
def table(request: HttpRequest, table: str) -> HttpResponse:
    """Hand the figures or the cohorts over as CSV, small cells left out."""
    require_roster(coach=request.user)
    if table not in TABLES:
        raise Http404("There is no such table.")
    found = world(coach=request.user, filters=queries.filters_from(request.GET), now=timezone.now())
    response = HttpResponse(TABLES[table](found), content_type="text/csv; charset=utf-8")
    response["Content-Disposition"] = f'attachment; filename="{table}-{found.today}.csv"'
    return response
