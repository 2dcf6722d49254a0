"""Headers and gates that every answer passes."""

from urllib.parse import urlsplit

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, resolve_url
from django.urls import reverse

from .models import Academy


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


class FirstRun:
    """Until an academy exists, every page leads to the one that asks for its name and first owner."""

    def __init__(self, get_response) -> None:
        self.get_response = get_response
        self.ready = False

    def __call__(self, request: HttpRequest) -> HttpResponse:
        if not self.ready and not request.path.startswith(f"/{settings.STATIC_URL.strip('/')}/"):
            self.ready = Academy.objects.exists()
            if not self.ready and request.path != reverse("academy:first_run"):
                return redirect("academy:first_run")
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
