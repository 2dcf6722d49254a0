"""The roster: the owner sees the academy, a coach the own part."""

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_GET

from academy import access
from academy.htmx import render_page
from academy.paging import paged
from lessons.queries.roster import DEFINITIONS, roster_rows


@require_GET
def roster(request: HttpRequest) -> HttpResponse:
    """Show every number with its definition and the list behind it; filters stay in the address. Two queries."""
    access.require_roster(coach=request.user)
    rows = roster_rows(coach=request.user)
    coaches = sorted({row.student.coach for row in rows}, key=str)
    chosen = request.GET.get("coach", "")
    if chosen:
        rows = [row for row in rows if str(row.student.coach.code) == chosen]
    show = DEFINITIONS.get(request.GET.get("show", ""))
    base = [row for row in rows if show is None or show.out_of(row)]
    named = request.GET.get("name", "").strip()
    listed = [row for row in base if show is None or show.counts(row)]
    listed = [row for row in listed if named.casefold() in row.student.name.casefold()]
    return render_page(
        request, page="lessons/roster.html", fragment="lessons/_roster.html",
        context={
            "figures": [definition.figure(rows) for definition in DEFINITIONS.values()],
            "listed": paged(listed, request.GET), "named": named, "show": show,
            "coaches": coaches, "chosen": chosen, "all_count": len(base),
            "coverage": _coverage(rows),
        },
    )


def _coverage(rows: list) -> dict:
    """Return how many return visits of all began with a first-ten block."""
    returns = sum(row.return_visits for row in rows)
    return {"with": sum(row.first_ten_visits for row in rows), "of": returns}
