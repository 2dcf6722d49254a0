"""The lesson sheet: to read, to print, to send, to copy."""

import uuid
from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_GET, require_POST

from lessons import access
from lessons.forms.sheet import SheetForm
from lessons.models import Lesson
from lessons.queries.sheet import sheet_page
from lessons.services import sheet as service

_HERE = ("127.", "localhost", "[::1]")


@require_GET
def note(request: HttpRequest, code: Any) -> HttpResponse:
    """Show the sheet as the student gets it, with the ways to give it away."""
    return _draw(request, access.lesson_for(coach=request.user, code=code), _form(request))


@require_POST
def send(request: HttpRequest, code: Any) -> HttpResponse:
    """Send the sheet by mail, now."""
    lesson = access.lesson_for(coach=request.user, code=code)
    form = _form(request, request.POST)
    if form.is_valid():
        try:
            sent = service.mail_sheet(
                by=request.user, lesson=lesson, **form.cleaned_data,
                address_of=lambda token: request.build_absolute_uri(f"/p/{token}/"),
            )
            messages.success(request, f"Sent to {', '.join(one['name'] for one in sent.sent_to)}.")
            return redirect("lessons:note", code=lesson.code)
        except ValidationError as error:
            form.add_error(None, error)
    return _draw(request, lesson, form, status=422)


@require_POST
def copied(request: HttpRequest, code: Any) -> HttpResponse:
    """Note that the text was copied to be passed on."""
    lesson = access.lesson_for(coach=request.user, code=code)
    form = _form(request, request.POST)
    if form.is_valid():
        try:
            key = uuid.uuid5(form.cleaned_data["key"], "copied")  # the mail of the same page has a key of its own
            service.note_copied(by=request.user, lesson=lesson, key=key)
            return redirect("lessons:note", code=lesson.code)
        except ValidationError as error:
            form.add_error(None, error)
    return _draw(request, lesson, form, status=422)


def _form(request: HttpRequest, data: Any = None) -> SheetForm:
    return SheetForm(data, only_here=request.get_host().startswith(_HERE))


def _draw(request: HttpRequest, lesson: Lesson, form: SheetForm, *, status: int = 200) -> HttpResponse:
    return render(request, "lessons/note.html", {**sheet_page(lesson), "form": form}, status=status)
