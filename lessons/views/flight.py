"""The flight page of a block: where the balls went, how they flew, where the yards came from, and what if."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_GET

from lessons import access
from lessons.forms.what_if import NAMES, WhatIfForm
from lessons.queries.flight.page import flight_page
from lessons.queries.flight.what_if import Starting, starting_point
from lessons.queries.flight.what_if_page import answer_context


@require_GET
def block_flight(request: HttpRequest, code: Any) -> HttpResponse:
    """Show one block's flights; ``?with=`` lays a second block beside it, ``?path=`` and the like ask what if."""
    block = access.block_for(coach=request.user, code=code)
    chosen = request.GET.get("with", "")
    other = access.companion_for(coach=request.user, block=block, code=chosen) if chosen else None
    system = request.user.units or request.academy.units
    context = flight_page(block=block, other=other, system=system)
    start = starting_point(context["own"].balls)
    form = _form(request, start, system)
    context |= {"start": start, "form": form}
    if form is not None and form.is_bound and form.is_valid():
        context |= answer_context(balls=context["own"].balls, start=start, wanted=form.wanted, system=system)
    return render(request, "lessons/flight.html", context, status=422 if form is not None and form.errors else 200)


def _form(request: HttpRequest, start: Starting, system: str) -> WhatIfForm | None:
    """Return the what-if form, bound where something was asked; None where there is no starting point."""
    if start.delivery is None:
        return None
    asked = request.GET if set(NAMES) & set(request.GET) else None
    return WhatIfForm(asked, now={key: start.value(key) for key in NAMES.values()}, system=system)
