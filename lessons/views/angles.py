"""Angles from a photo taken face-on or down the line. Clicks arrive here, and a photo that is to be kept."""

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.utils.cache import patch_vary_headers
from django.views.decorators.http import require_http_methods

from lessons import access
from lessons.forms.angles import ANGLES, SPOT_CHOICES, SPOTS, AnglesForm
from lessons.media.allowed import allowed_for
from lessons.models import Lesson, SetupObservation
from lessons.queries.angle_reading import angles_of
from lessons.queries.setup_board import Choice, choice_of
from lessons.services.setup import note_setup

from .keep_photo import keep_photo, new_key, onward


@require_http_methods(["GET", "POST"])
def angles(request: HttpRequest, code: Any) -> HttpResponse:
    """Show the page; a POST reads clicks, and stores the angles where ``store`` is sent with them."""
    lesson = access.lesson_for(coach=request.user, code=code)
    asked = request.POST if request.method == "POST" else request.GET
    choice, block = choice_of(asked=asked, lesson=lesson, system=request.user.units or request.academy.units)
    allowed = allowed_for(student=lesson.student, day=timezone.localdate())
    found, problems = {}, []
    if request.method == "POST" and block is not None and allowed.filming.allowed:
        found, problems = _read(request.POST, lesson)
        if found and asked.get("store") == "yes":
            return _store(request, lesson, choice, block, found)
    context = {"lesson": lesson, "student": lesson.student, "choice": choice, "has_block": block is not None,
               "allowed": allowed, "angles": ANGLES, "spots": SPOTS, "spot_choices": SPOT_CHOICES,
               "phases": SetupObservation.Phase.choices, "problems": problems, "key": new_key(), **found}
    template = "angles/_answer.html" if request.htmx and request.method == "POST" else "angles.html"
    refused = request.method == "POST" and not found
    response = render(request, f"lessons/{template}", context, status=422 if refused else 200)
    patch_vary_headers(response, ["HX-Request"])
    return response


def _read(sent: Any, lesson: Lesson) -> tuple[dict[str, Any], list[str]]:
    """Return the angles of the clicks, or what is wrong with them."""
    form = AnglesForm(sent)
    if not form.is_valid():
        return {}, form.problems()
    try:
        read = angles_of(lesson=lesson, asked=form.asked, camera=form.camera)
    except ValueError as error:
        return {}, [f"{str(error)[:1].upper()}{str(error)[1:]}."]
    return {**read, "phase": form.cleaned_data["phase"], "angle": form.cleaned_data["angle"]}, []


def _store(request: HttpRequest, lesson: Lesson, choice: Choice, block: Any, found: dict[str, Any]) -> HttpResponse:
    """Keep the angles with their uncertainty and the camera's place, and go to the board."""
    phase = found["phase"]
    stored = note_setup(by=request.user, lesson=lesson, category=choice.category, method=SetupObservation.Method.PHOTO,
                        numbers={(key, phase): angle for key, angle in found["numbers"].items()})
    said = keep_photo(request, lesson=lesson, block=block, phase=phase, angle=found["angle"])
    messages.success(request, f"{stored} angle{'' if stored == 1 else 's'} stored. {said}")
    return onward(request, reverse("lessons:board", args=[lesson.code]) + choice.address(phase=phase))
