"""The demo's guide: whom to look up, and what to look at."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_GET

from lessons.queries.guide import signposts


@require_GET
def guide(request: HttpRequest) -> HttpResponse:
    """List the scenarios; in a real academy there is none."""
    return render(request, "lessons/guide.html", {"signposts": signposts(coach=request.user)})
