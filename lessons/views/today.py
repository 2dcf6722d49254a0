"""Today: the day's lessons, each with its brief, and what waits."""

import uuid
from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_POST

from academy.access import require_coach
from lessons import access
from lessons.forms.today import BookForm
from lessons.queries.today import today as read_today
from lessons.services import lessons as service


@require_GET
def today(request: HttpRequest) -> HttpResponse:
    """Show the day in order."""
    return _today(request, _book_form(request))


@require_POST
def lesson_book(request: HttpRequest) -> HttpResponse:
    """Book a lesson for a student of one's own, or begin one at once."""
    require_coach(coach=request.user)
    form = BookForm(request.POST, coach=request.user)
    if not form.is_valid():
        return _today(request, form, status=422)
    got = form.cleaned_data
    try:
        lesson = service.book_lesson(
            by=request.user, student=got["student"], starts_at=form.moment, minutes=got["minutes"], code=got["key"]
        )
    except ValidationError as error:
        form.add_error(None, error)
        return _today(request, form, status=422)
    if got["starts_at"]:
        messages.success(request, f"{lesson.student.name} is booked.")
        return redirect("lessons:today")
    return _begin(request, lesson)


@require_POST
def lesson_start(request: HttpRequest, code: Any) -> HttpResponse:
    """Begin a planned lesson: its first block lies ready."""
    return _begin(request, access.lesson_for(coach=request.user, code=code))


def _begin(request: HttpRequest, lesson) -> HttpResponse:
    try:
        lesson = service.start_lesson(by=request.user, lesson=lesson)
    except ValidationError as error:
        messages.error(request, " ".join(error.messages))
        return redirect("lessons:today")
    # To the balls: on a phone the first ten are one tap away, and the line above them says what was not asked.
    return redirect(reverse("lessons:lesson", args=[lesson.code]) + "#balls")


def _book_form(request: HttpRequest) -> BookForm:
    return BookForm(coach=request.user, initial={"key": uuid.uuid4(), "minutes": 60})


def _today(request: HttpRequest, form: BookForm, status: int = 200) -> HttpResponse:
    return render(request, "lessons/today.html", {"form": form, **read_today(coach=request.user)}, status=status)
