"""Before and after on the private page: a page of its own, so that the first one stays light."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_GET

from academy.models import ShareLink
from lessons.queries.media import newest_pairs

from .holder import for_link_holder


@for_link_holder
@require_GET
def pictures(request: HttpRequest, link: ShareLink) -> HttpResponse:
    """Show the newest pair of each angle and club; nothing where the pictures may not be looked at today."""
    context = {"pairs": newest_pairs(student=link.student), "file_page": "lessons:me_picture"}
    return render(request, "lessons/private/pictures.html", context)
