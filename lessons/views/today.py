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
from academy.models import Student
from lessons import access
from lessons.forms.today import BookForm
from lessons.models import Lesson
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
    try:
        return _booked(request, form) if form.cleaned_data["starts_at"] else _begun(request, form)
    except service.ConsentMissing as error:
        return _ask_first(request, form.cleaned_data["student"], error)
    except ValidationError as error:
        form.add_error(None, error)
        return _today(request, form, status=422)


@require_POST
def lesson_start(request: HttpRequest, code: Any) -> HttpResponse:
    """Begin a planned lesson: its first block lies ready."""
    lesson = access.lesson_for(coach=request.user, code=code)
    try:
        return _to_the_balls(service.start_lesson(by=request.user, lesson=lesson))
    except service.ConsentMissing as error:
        return _ask_first(request, lesson.student, error)
    except ValidationError as error:
        messages.error(request, " ".join(error.messages))
        return redirect("lessons:today")


def _booked(request: HttpRequest, form: BookForm) -> HttpResponse:
    got = form.cleaned_data
    lesson = service.book_lesson(
        by=request.user, student=got["student"], starts_at=form.moment, minutes=got["minutes"], code=got["key"])
    messages.success(request, f"{lesson.student.name} is booked.")
    return redirect("lessons:today")


def _begun(request: HttpRequest, form: BookForm) -> HttpResponse:
    got = form.cleaned_data
    return _to_the_balls(service.begin_lesson(
        by=request.user, student=got["student"], minutes=got["minutes"], code=got["key"]))


def _to_the_balls(lesson: Lesson) -> HttpResponse:
    """On a phone the first ten are one tap away, and the line above them says what was not asked."""
    return redirect(reverse("lessons:lesson", args=[lesson.code]) + "#balls")


def _ask_first(request: HttpRequest, student: Student, error: ValidationError) -> HttpResponse:
    """Go to where the consent is noted; somebody who gives one lesson of another coach's student stays on Today."""
    messages.error(request, " ".join(error.messages))
    if student.coach_id != request.user.pk:
        return redirect("lessons:today")
    return redirect("academy:guardians", student.code)


def _book_form(request: HttpRequest) -> BookForm:
    return BookForm(coach=request.user, initial={"key": uuid.uuid4(), "minutes": 60})


def _today(request: HttpRequest, form: BookForm, status: int = 200) -> HttpResponse:
    return render(request, "lessons/today.html", {"form": form, **read_today(coach=request.user)}, status=status)
