"""How every number is computed, for whoever wants to check one."""

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_GET

from academy.htmx import render_page
from lessons.queries.method_page import method_page


@require_GET
def method(request: HttpRequest) -> HttpResponse:
    """Show every number with its formula, range and source; ``?words=`` searches."""
    context = method_page(words=request.GET.get("words", "")[:80])
    return render_page(request, page="lessons/method.html", fragment="lessons/_methods.html", context=context)
