"""Drills and patterns of the academy's own."""

from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from academy.access import require_library_keeper
from lessons.forms.own_entries import OwnDrillForm, OwnPatternForm
from lessons.library import stored_library
from lessons.models import LibraryEntry
from lessons.services import library as service


@require_http_methods(["GET", "POST"])
def drill(request: HttpRequest) -> HttpResponse:
    """Add a drill of the academy's own."""
    require_library_keeper(coach=request.user)
    form = OwnDrillForm(request.POST or None, by=str(request.user))
    return _added(request, form, "drill", "A drill of your own")


@require_http_methods(["GET", "POST"])
def pattern(request: HttpRequest, slug: str) -> HttpResponse:
    """Make an own pattern from one of the library."""
    require_library_keeper(coach=request.user)
    base = stored_library().patterns.get(slug)
    if base is None:
        raise Http404("The library has no such pattern.")
    form = OwnPatternForm(request.POST or None, base=base, by=str(request.user))
    return _added(request, form, "pattern", f"Your own pattern, made from “{base.title}”")


@require_POST
def retire(request: HttpRequest, own: str) -> HttpResponse:
    """Take an own entry out of the library; ``own`` is its kind and its slug, as in drill-own-gate."""
    require_library_keeper(coach=request.user)
    kind, _, slug = own.partition("-")
    row = LibraryEntry.objects.filter(kind=kind, slug=slug, is_own=True).first()
    if row is None:
        raise Http404("There is no such entry of your own.")
    try:
        if row.retired_at is None:
            service.retire_own_entry(by=request.user, entry=row)
        messages.success(request, f"“{row.title}” {'is out of the library' if row.is_own else 'counts again'}.")
    except ValidationError as error:
        messages.error(request, " ".join(error.messages))
    return redirect("lessons:library")


def _added(request: HttpRequest, form: Any, kind: str, title: str) -> HttpResponse:
    """Show the form, or store what it makes and show the new entry."""
    if request.method == "POST" and form.is_valid():
        try:
            store = service.replace_shipped if getattr(form, "replaces", False) else service.add_own_entry
            row = store(by=request.user, kind=kind, data=form.entry)
            return redirect(f"lessons:library_{kind}", slug=row.slug)
        except ValidationError as error:
            form.add_error(None, error)
    context = {"form": form, "title": title}
    return render(request, "lessons/library/own_entry.html", context, status=422 if form.errors else 200)
