"""The lesson note on one sheet of paper."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_GET

from lessons import access
from lessons.queries.note import note_page


@require_GET
def note(request: HttpRequest, code: Any) -> HttpResponse:
    """Show the note as the student gets it, to read and to print."""
    lesson = access.lesson_for(coach=request.user, code=code)
    return render(request, "lessons/note.html", note_page(lesson))
