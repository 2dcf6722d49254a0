"""Sources of numbers: which there are, their tokens, when they last sent something."""

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from academy.access import require_coach
from lessons.forms.sources import SourceForm
from lessons.models import DataSource
from lessons.queries import live
from lessons.services import sources as service


@require_http_methods(["GET", "POST"])
def sources(request: HttpRequest) -> HttpResponse:
    """List the sources; POST adds one."""
    require_coach(coach=request.user)
    form = SourceForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        source = service.add_source(by=request.user, **form.cleaned_data)
        messages.success(request, f"{source.name} is there; issue a token for it.")
        return redirect("lessons:sources")
    return _page(request, form, status=422 if form.errors else 200)


@require_POST
def token_issue(request: HttpRequest, code: Any) -> HttpResponse:
    """Issue a token and show it, this once."""
    require_coach(coach=request.user)
    source = get_object_or_404(DataSource, code=code)
    token = service.issue_token(source=source)
    address = request.build_absolute_uri(reverse("lessons:api_shots"))
    return _page(request, SourceForm(), issued=source, token=token, address=address)


@require_POST
def token_revoke(request: HttpRequest, code: Any) -> HttpResponse:
    """End a source's token."""
    require_coach(coach=request.user)
    source = get_object_or_404(DataSource, code=code)
    service.revoke_token(source=source)
    messages.success(request, f"The token of {source.name} does not work any more.")
    return redirect("lessons:sources")


def _page(request: HttpRequest, form: SourceForm, status: int = 200, **more: Any) -> HttpResponse:
    context = {"form": form, "sources": live.sources(), **more}
    return render(request, "lessons/sources.html", context, status=status)
