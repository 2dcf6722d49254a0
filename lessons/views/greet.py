"""The greeting of a lesson: four questions, pain, the conditions of the hour."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_http_methods, require_POST

from lessons import access
from lessons.forms.greet import GreetForm, HeaderForm, PainForm
from lessons.services import greet as service

from .page import render_stop


@require_POST
def greet(request: HttpRequest, code: Any) -> HttpResponse:
    """Store what one tap answered."""
    lesson = access.lesson_for(coach=request.user, code=code)
    form = GreetForm(request.POST)
    if not form.is_valid():
        return render_stop(request, lesson=lesson, slug="greet", extra={"problem": _first(form)}, status=422)
    if form.answers:
        service.answer(by=request.user, lesson=lesson, **form.answers)
    return render_stop(request, lesson=lesson, slug="greet")


@require_POST
def pain(request: HttpRequest, code: Any) -> HttpResponse:
    """Store what the student says about pain; the words of care come back with it."""
    lesson = access.lesson_for(coach=request.user, code=code)
    form = PainForm(request.POST)
    if not form.is_valid():
        extra = {"problem": _first(form), "pain_open": True}
        return render_stop(request, lesson=lesson, slug="greet", extra=extra, status=422)
    service.note_pain(by=request.user, lesson=lesson, **form.cleaned_data)
    return render_stop(request, lesson=lesson, slug="greet")


@require_http_methods(["GET", "POST"])
def header(request: HttpRequest, code: Any) -> HttpResponse:
    """Show and store the conditions of the hour."""
    lesson = access.lesson_for(coach=request.user, code=code)
    form = HeaderForm(request.POST or None, lesson=lesson, system=system_of(request))
    if request.method == "POST" and form.is_valid():
        service.set_header(
            by=request.user, lesson=lesson, new_venue=form.cleaned_data["new_venue"], place=form.place, **form.values
        )
        return render_stop(request, lesson=lesson, slug="greet")
    context = {"lesson": lesson, "student": lesson.student, "form": form}
    return render(request, "lessons/header.html", context, status=422 if form.errors else 200)


def system_of(request: HttpRequest) -> str:
    """Return the units this reader works in."""
    return request.user.units or request.academy.units


def _first(form) -> str:
    name, errors = next(iter(form.errors.items()))
    return f"{form.fields[name].label or name.replace('_', ' ')}: {errors[0]}"
