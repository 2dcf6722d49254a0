"""Headers and gates that every answer passes."""

from typing import Any
from urllib.parse import urlsplit

from django.conf import settings
from django.contrib import messages
from django.contrib.auth import SESSION_KEY, logout
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, resolve_url
from django.urls import reverse
from django.utils import timezone

from . import reading, second_factor, stay
from .models import Academy

SECOND_STEP_FOR_ALL = "second_step_for_all"
"""Name of the house rule."""


class ContentSecurityPolicy:
    """Send SECURE_CSP with every answer. Django 6 has this built in and reads the same setting."""

    def __init__(self, get_response) -> None:
        self.get_response = get_response
        self.header = "; ".join(f"{name} {' '.join(values)}" for name, values in settings.SECURE_CSP.items())

    def __call__(self, request: HttpRequest) -> HttpResponse:
        response = self.get_response(request)
        response.headers.setdefault("Content-Security-Policy", self.header)
        response.headers.setdefault("Permissions-Policy", "camera=(self), geolocation=(), microphone=()")
        return response


class FragmentSignIn:
    """Turn a redirect to the sign-in page into HX-Redirect for fragment requests; htmx would swap the sign-in
    page into the fragment's place otherwise."""

    def __init__(self, get_response) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        response = self.get_response(request)
        if not getattr(request, "htmx", False) or response.status_code != 302:
            return response
        if urlsplit(response["Location"]).path != resolve_url(settings.LOGIN_URL):
            return response
        answer = HttpResponse(status=204)
        answer["HX-Redirect"] = resolve_url(settings.LOGIN_URL)
        return answer


class House:
    """Read the academy once a request, set its clock, and lead every page to the first run until it exists.

    One query a page; ``request.academy`` saves everybody else theirs.
    """

    def __init__(self, get_response) -> None:
        self.get_response = get_response
        self.static = f"/{settings.STATIC_URL.strip('/')}/"

    def __call__(self, request: HttpRequest) -> HttpResponse:
        request.academy = None
        if request.path.startswith(self.static):
            return self.get_response(request)
        request.academy = Academy.objects.first()
        if request.academy is None and request.path != reverse("academy:first_run"):
            return redirect("academy:first_run")
        with timezone.override(request.academy.timezone if request.academy else settings.TIME_ZONE):
            return self.get_response(request)


class PrivatePages:
    """Keep pages out of caches and search engines: everything but static files is private."""

    def __init__(self, get_response) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        response = self.get_response(request)
        response.headers.setdefault("Cache-Control", "no-store")
        response.headers.setdefault("X-Robots-Tag", "noindex, nofollow")
        return response


class SignedInLimits:
    """End a stay that has been idle or open for too long, with a sentence on the sign-in page. No query."""

    def __init__(self, get_response) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        if SESSION_KEY in request.session and stay.is_over(session=request.session, now=timezone.now()):
            logout(request)
            messages.info(request, "You were signed out because it has been a while. Sign in again to go on.")
        return self.get_response(request)


class SecondStepForAll:
    """Lead whoever has no second step to the page that turns it on, where the house asks it of everybody. One query
    a page, only there."""

    OPEN = {"academy:second_factor", "academy:sign_out", "academy:sign_in", "academy:sign_in_code", "academy:entry"}
    """Where somebody gets without it."""

    def __init__(self, get_response) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        return self.get_response(request)

    def process_view(self, request: HttpRequest, *_: Any) -> HttpResponse | None:
        asked = request.academy is not None and request.academy.house_rules.get(SECOND_STEP_FOR_ALL) is True
        if not asked or not request.user.is_authenticated or request.resolver_match.view_name in self.OPEN:
            return None
        if second_factor.is_on(request.user):
            return None
        messages.info(request, "The house asks for a second step of everybody. Turn it on here; then you can go on.")
        return redirect("academy:second_factor")


class NoteReads:
    """Write down who read a junior's record or health data, or took an export along, once the answer went well."""

    def __init__(self, get_response) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        response = self.get_response(request)
        if response.status_code < 400:
            reading.note_reads(request=request, now=timezone.now())
        return response
