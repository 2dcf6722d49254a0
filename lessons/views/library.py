"""The library pages: browse and search, a pattern, a drill card, setup windows, own values with their reasons."""

from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_POST

from academy.access import belonging, require_library_keeper
from academy.htmx import render_page
from lessons.forms.library import SettingForm, ThresholdForm, WindowForm
from lessons.queries import library as query
from lessons.queries.drill_records import drill_records
from lessons.queries.settings_page import settings_page
from lessons.services import library as service


@require_GET
def index(request: HttpRequest) -> HttpResponse:
    """Browse and search."""
    words, place = request.GET.get("words", "")[:80], request.GET.get("place", "")
    return render_page(request, page="lessons/library/index.html", fragment="lessons/library/_found.html",
                       context=query.browse(words=words, place=place))


@require_GET
def pattern(request: HttpRequest, slug: str) -> HttpResponse:
    """Show one pattern, and what followed its drills in this academy."""
    page = _found(query.pattern_page(slug=slug, coach=request.user))
    return render(request, "lessons/library/pattern.html", {**page, "records": drill_records(pattern=slug)})


@require_GET
def drill(request: HttpRequest, slug: str) -> HttpResponse:
    """Show one drill as a card to print."""
    return render(request, "lessons/library/drill.html", _found(query.drill_page(slug=slug)))


@require_GET
def windows(request: HttpRequest, club: str) -> HttpResponse:
    """Show the setup windows of one kind of club."""
    return render(request, "lessons/library/windows.html", _found(query.windows_page(club=club, coach=request.user)))


@require_POST
def window_own(request: HttpRequest, club: str) -> HttpResponse:
    """Lay an own window over a shipped one."""
    require_library_keeper(coach=request.user)
    page = _found(query.windows_page(club=club, coach=request.user))
    form = WindowForm({**request.POST.dict(), "club": club}, coach=request.user)
    return _stored(request, form, service.override_window, page, "lessons/library/windows.html", request.path[:-4])


@require_POST
def threshold_own(request: HttpRequest, slug: str) -> HttpResponse:
    """Lay an own threshold over a pattern's."""
    require_library_keeper(coach=request.user)
    page = _found(query.pattern_page(slug=slug, coach=request.user))
    form = ThresholdForm(request.POST, coach=request.user)
    return _stored(request, form, service.override_threshold, page, "lessons/library/pattern.html", request.path[:-4])


@require_GET
def settings(request: HttpRequest) -> HttpResponse:
    """Show every value that the statistics assume, with the academy's own beside it."""
    return render(request, "lessons/library/settings.html", settings_page())


@require_POST
def setting_own(request: HttpRequest) -> HttpResponse:
    """Let an own value count in place of an assumed one."""
    require_library_keeper(coach=request.user)
    form = SettingForm(request.POST)
    return _stored(request, form, service.override_setting, settings_page(), "lessons/library/settings.html",
                   reverse("lessons:library_settings"))


@require_POST
def override_back(request: HttpRequest, code: Any) -> HttpResponse:
    """Let the shipped value count again."""
    require_library_keeper(coach=request.user)
    row = belonging(rows=query.overrides_seen_by(request.user, removed=True), code=code)
    service.take_override_back(by=request.user, override=row)
    messages.success(request, "The shipped value counts again.")
    if row.kind == "setting":
        return redirect("lessons:library_settings")
    if row.kind == "window":
        return redirect("lessons:library_windows", club=row.slug.split("/")[0])
    return redirect("lessons:library_pattern", slug=row.slug)


def _stored(request: HttpRequest, form: Any, store: Any, page: dict, template: str, back: str) -> HttpResponse:
    """Store a valid form and go back to the page; show the page with the problems otherwise."""
    problems = [error for errors in form.errors.values() for error in errors]
    if not problems:
        try:
            store(by=request.user, **form.values)
        except ValidationError as error:
            problems = error.messages
        else:
            messages.success(request, "Your value counts from now on; the shipped one stands beside it.")
            return redirect(back)
    context = {**page, "problems": problems, "typed": request.POST.dict()}
    return render(request, template, context, status=422)


def _found(page: dict | None) -> dict:
    if page is None:
        raise Http404("The library has no such entry.")
    return page
