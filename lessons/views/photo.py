"""Setup numbers from a photo. The picture stays in the browser unless it is to be kept: clicks and sizes
arrive here."""

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.utils.cache import patch_vary_headers
from django.views.decorators.http import require_http_methods

from lessons import access
from lessons.forms.photo import KINDS, PhotoForm
from lessons.media.allowed import allowed_for
from lessons.models import Lesson, SetupObservation, SetupSeries
from lessons.queries.photo_reading import reading_of
from lessons.queries.setup_board import Choice, choice_of
from lessons.queries.ten_setups import COLUMNS, MORE
from lessons.services.setup import note_setup
from lessons.services.ten_setups import add_setup

from .keep_photo import keep_photo, new_key, onward
from .ten_setups import address, series_of


@require_http_methods(["GET", "POST"])
def photo(request: HttpRequest, code: Any) -> HttpResponse:
    """Show the page; a POST reads clicks, and stores the numbers where ``store`` is sent with them."""
    lesson = access.lesson_for(coach=request.user, code=code)
    asked = request.POST if request.method == "POST" else request.GET
    choice, block = choice_of(asked=asked, lesson=lesson, system=request.user.units or request.academy.units)
    allowed = allowed_for(student=lesson.student, day=timezone.localdate())
    series = series_of(lesson, asked["series"]) if asked.get("series") else None
    if request.method == "POST" and block is not None and allowed.filming.allowed:
        found, problems = _read(request.POST, lesson)
        if not problems and asked.get("store") == "yes":
            return _store(request, lesson, choice, block, found, series)
    else:
        found, problems = {}, []
    context = {"lesson": lesson, "student": lesson.student, "choice": choice, "has_block": block is not None,
               "allowed": allowed, "kinds": KINDS, "phases": SetupObservation.Phase.choices,
               "problems": problems, "series": series,
               "key": new_key(), **found}
    template = "lessons/photo/_answer.html" if request.htmx and request.method == "POST" else "lessons/photo.html"
    refused = request.method == "POST" and not found
    response = render(request, template, context, status=422 if refused else 200)
    patch_vary_headers(response, ["HX-Request"])
    return response


def _read(sent: Any, lesson: Lesson) -> tuple[dict[str, Any], list[str]]:
    """Return the numbers of the clicks, or what is wrong with them."""
    form = PhotoForm(sent)
    if not form.is_valid():
        return {}, form.problems()
    try:
        return {**reading_of(lesson=lesson, asked=form.asked()), "phase": form.cleaned_data["phase"]}, []
    except ValueError as error:
        return {}, [_sentence(error)]


def _store(request: HttpRequest, lesson: Lesson, choice: Choice, block: Any, found: dict[str, Any],
           series: SetupSeries | None) -> HttpResponse:
    """Keep the numbers with their uncertainty, and go to the board; or as the next of ten setups, and go there."""
    phase = found["phase"]
    if series is not None:
        n = add_setup(by=request.user, series=series, numbers={
            key: number for key, number in found["numbers"].items() if key in (*COLUMNS, *MORE)})
        said = keep_photo(request, lesson=lesson, block=block, phase=phase, angle="above")
        messages.success(request, f"Stored as setup {n}. {said}")
        return onward(request, address(lesson, series))
    stored = note_setup(by=request.user, lesson=lesson, category=choice.category, method=SetupObservation.Method.PHOTO,
                        numbers={(key, phase): number for key, number in found["numbers"].items()})
    said = keep_photo(request, lesson=lesson, block=block, phase=phase, angle="above")
    messages.success(request, f"{stored} number{'' if stored == 1 else 's'} stored. {said}")
    return onward(request, reverse("lessons:board", args=[lesson.code]) + choice.address(phase=phase))


def _sentence(error: ValueError) -> str:
    text = str(error)
    return f"{text[:1].upper()}{text[1:]}."
