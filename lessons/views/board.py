"""The setup board: seen, dragged and typed; stored through the stop “look”."""

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.cache import patch_vary_headers
from django.views.decorators.http import require_http_methods

from lessons import access
from lessons.forms.setup import SetupForm
from lessons.models import Lesson
from lessons.queries.setup import shoulder_width
from lessons.queries.setup_board import board_page, choice_of
from lessons.services.setup import note_setup


@require_http_methods(["GET", "POST"])
def board(request: HttpRequest, code: Any) -> HttpResponse:
    """Show the board; boxes in the address are drawn without being stored, a POST stores them."""
    lesson = access.lesson_for(coach=request.user, code=code)
    asked = request.POST if request.method == "POST" else request.GET
    choice, block = choice_of(asked=asked, lesson=lesson, system=request.user.units or request.academy.units)
    if block is None:
        return render(request, "lessons/board.html", {"lesson": lesson, "student": lesson.student, "board": None})
    form = _form(request, asked, lesson)
    form.is_valid()
    if request.method == "POST" and not form.problems:
        stored = note_setup(by=request.user, lesson=lesson, category=block.category, numbers=form.entries,
                            method=form.cleaned_data.get("method", ""))
        said = f"{stored} number{'' if stored == 1 else 's'} stored." if stored else "Nothing new to store."
        messages.success(request, said)
        return redirect(reverse("lessons:board", args=[lesson.code]) + choice.address())
    page = board_page(lesson=lesson, block=block, choice=choice, typed=form.entries)
    template = "lessons/board/_answer.html" if request.htmx else "lessons/board.html"
    response = render(request, template, {**page, "problems": form.problems}, status=422 if form.problems else 200)
    patch_vary_headers(response, ["HX-Request"])
    return response


def _form(request: HttpRequest, asked: Any, lesson: Lesson) -> SetupForm:
    system = request.user.units or request.academy.units
    return SetupForm(asked, system=system, shoulder_width_cm=shoulder_width(lesson))
