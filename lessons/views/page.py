"""Answering from inside the running order: a stop alone for htmx, the whole page for everybody else."""

from collections.abc import Mapping
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.cache import patch_vary_headers

from lessons.care import reads_health
from lessons.imports.reader import MAX_BYTES
from lessons.models import Block, Lesson
from lessons.queries.lesson import lesson_page
from lessons.queries.live import fresh_state, live_context
from lessons.queries.plans.hour import strip_of
from lessons.queries.stamp import stamp_of
from lessons.stops import draw_stop, running_order
from metrics.fields import FIELDS

FIELDS_KEY = "typed_fields"
"""Where the session keeps which numbers are typed, by device."""


def render_stop(
    request: HttpRequest, *, lesson: Lesson, slug: str, extra: dict[str, Any] | None = None, status: int = 200,
    is_open: bool = True,
) -> HttpResponse:
    """Answer a request that belongs to one stop.

    htmx gets the stop alone. Otherwise a change that went well (status 200 to a POST) redirects to the lesson
    with the stop open, and a form with errors comes back inside the whole page. ``extra`` goes over the stop's
    data, such as the form with its errors.
    """
    if request.htmx:
        stop = draw_stop(lesson=lesson, slug=slug, is_open=is_open, extra=extra)
        context = {"lesson": lesson, "student": lesson.student, "stop": stop}
        response = render(request, "lessons/_stop.html", context, status=status)
    elif request.method == "POST" and status == 200:
        response = redirect(f"{reverse('lessons:lesson', args=[lesson.code])}?stop={slug}#stop-{slug}")
    else:
        response = render_lesson(request, lesson=lesson, open_slug=slug, extra=extra, status=status)
    patch_vary_headers(response, ["HX-Request"])
    return response


def render_lesson(
    request: HttpRequest, *, lesson: Lesson, open_slug: str | None = None, extra: dict[str, Any] | None = None,
    status: int = 200, wanted: str = "", typed: Mapping[str, str] | None = None,
) -> HttpResponse:
    """Draw the whole lesson page; ``typed`` is half a ball that stays in its boxes."""
    lesson.read_house = request.academy
    stamp = stamp_of(lesson)  # first of all: what is written while the page is drawn is asked for again
    order = running_order(lesson=lesson, open_slug=open_slug, extra=extra, stamp=stamp)
    chosen = request.session.get(FIELDS_KEY, {}).get(str(lesson.device_id or "eyes"))
    all_balls = asks_for_all(request)
    page = lesson_page(
        lesson=lesson, wanted=wanted or request.GET.get("block", ""), chosen_fields=chosen, all_balls=all_balls
    )
    strip = strip_of(lesson) if reads_health(lesson) else None
    context = {"order": order, "all_fields": FIELDS, "strip": strip, "typed": typed or {}, **page,
               "most_bytes": MAX_BYTES, "choosing": request.GET.get("fields") == "choose"}
    if page["current"]:
        context["live"] = live_context(
            lesson=lesson, block=page["current"], state=fresh_state(stamp.mark), all_balls=all_balls
        )
    return render(request, "lessons/lesson.html", context, status=status)


def render_refused(
    request: HttpRequest, *, block: Block, sentence: str, typed: Mapping[str, str] | None = None
) -> HttpResponse:
    """Answer a form of a block that could not be stored: the page with the sentence, and what was typed."""
    messages.error(request, sentence)
    return render_lesson(request, lesson=block.lesson, wanted=str(block.code), status=422, typed=typed)


def asks_for_all(request: HttpRequest) -> bool:
    """Say whether every ball of the block is wanted, not the newest alone."""
    return request.GET.get("balls") == "all"
