"""The script that keeps the private page readable without a network, served where its reach is the private page."""

from pathlib import Path

from django.contrib.auth.decorators import login_not_required
from django.contrib.staticfiles import finders
from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.http import require_GET


@login_not_required
@require_GET
def worker(request: HttpRequest) -> HttpResponse:
    """Hand over the worker. It holds nothing of anybody, so it needs no link."""
    found = finders.find("js/private-worker.js")
    if found is None:
        raise Http404("The worker's file is missing.")
    return HttpResponse(Path(found).read_text(encoding="utf-8"), content_type="text/javascript; charset=utf-8")
