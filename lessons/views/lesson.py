"""The lesson page: the running order of the hour."""

from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.http import require_GET, require_POST

from lessons import access
from lessons.services import lessons as service
from lessons.stops import STOPS

from .page import render_lesson, render_stop


@require_GET
def lesson(request: HttpRequest, code: Any) -> HttpResponse:
    """Show the whole lesson; ``?stop=`` opens one stop, ``?block=`` lays one block on the desk."""
    found = access.lesson_for(coach=request.user, code=code)
    return render_lesson(request, lesson=found, open_slug=request.GET.get("stop"))


@require_GET
def stop(request: HttpRequest, code: Any, slug: str) -> HttpResponse:
    """Show one stop, open."""
    found = access.lesson_for(coach=request.user, code=code)
    _known(slug)
    return render_stop(request, lesson=found, slug=slug)


@require_POST
def stop_done(request: HttpRequest, code: Any, slug: str) -> HttpResponse:
    """Tick a stop off, or open it again."""
    found = access.lesson_for(coach=request.user, code=code)
    _known(slug)
    done = request.POST.get("done") != "no"
    service.mark_stop(by=request.user, lesson=found, slug=slug, title=STOPS[slug].title, done=done)
    return render_stop(request, lesson=found, slug=slug, is_open=not done)


def _known(slug: str) -> None:
    if slug not in STOPS:
        raise Http404("There is no such stop.")
