"""One view, page or fragment: the same template file the page includes is what htmx gets alone."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.cache import patch_vary_headers


def render_page(
    request: HttpRequest, *, page: str, fragment: str, context: dict, status: int = 200
) -> HttpResponse:
    """Render the fragment for htmx and the whole page for everybody else."""
    template = fragment if request.htmx else page
    response = render(request, template, context, status=status)
    patch_vary_headers(response, ["HX-Request"])
    return response
