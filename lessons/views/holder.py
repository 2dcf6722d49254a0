"""Letting in whoever has exchanged a private link, and nobody else."""

import uuid
from collections.abc import Callable
from functools import wraps
from typing import Any

from django.contrib.auth.decorators import login_not_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render

from academy import access
from academy.models import ShareLink


def for_link_holder(view: Callable[..., HttpResponse]) -> Callable[..., HttpResponse]:
    """Call the view with the working link as second argument; everybody else gets one and the same answer."""

    @login_not_required
    @wraps(view)
    def guarded(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        try:
            link = access.link_for(request=request)
        except Http404:
            return render(request, "academy/share_gone.html", status=404)
        return view(request, link, *args, **kwargs)

    return guarded


def writer(link: ShareLink) -> str:
    """Return the guardian's name where a guardian writes, so that a message to or from a junior says so."""
    return link.guardian.name if link.guardian is not None else ""


def new_key() -> dict[str, uuid.UUID]:
    """Return the initial value that makes a form store once, however often it is sent."""
    return {"key": uuid.uuid4()}
