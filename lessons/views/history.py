"""What was done in a lesson, by whom and when, and taking it back."""

from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_GET, require_POST

from academy.journal import CannotUndo
from academy.models import Change
from lessons import access
from lessons.models import Lesson
from lessons.services import history as service


@require_GET
def history(request: HttpRequest, code: Any) -> HttpResponse:
    """List what was done, newest first. Two queries."""
    lesson = access.lesson_for(coach=request.user, code=code)
    changes = service.changes_of(lesson=lesson, most=400)
    standing = (change for change in changes if change.undone_at is None)
    for key, change in zip(range(1, 10), standing, strict=False):
        change.key = key
    context = {"lesson": lesson, "student": lesson.student, "changes": changes}
    return render(request, "lessons/history.html", context)


@require_POST
def undo(request: HttpRequest, code: Any) -> HttpResponse:
    """Take the last thing back, whatever it was."""
    lesson = access.lesson_for(coach=request.user, code=code)
    try:
        change = service.undo_last(by=request.user, lesson=lesson)
        messages.success(request, f"Taken back: {change}." if change else "There is nothing left to take back.")
    except CannotUndo as reason:
        messages.error(request, f"Not taken back. {reason}")
    return _to_where_it_is(lesson)


@require_POST
def change_undo(request: HttpRequest, code: Any, change: Any) -> HttpResponse:
    """Take one change back."""
    lesson = access.lesson_for(coach=request.user, code=code)
    found = Change.objects.filter(lesson_code=lesson.code, code=change).first()
    if found is None:
        raise Http404("There is no such change in this lesson.")
    try:
        service.undo_change(by=request.user, change=found)
        messages.success(request, f"Taken back: {found}.")
    except CannotUndo as reason:
        messages.error(request, f"Not taken back. {reason}")
    if not Lesson.objects.filter(pk=lesson.pk).exists():
        return redirect("lessons:today")
    return redirect("lessons:lesson_history", code=lesson.code)


def _to_where_it_is(lesson: Lesson) -> HttpResponse:
    """Go back to the lesson, or to Today where the last thing was its beginning or its booking."""
    status = Lesson.objects.filter(pk=lesson.pk).values_list("status", flat=True).first()
    if status in {None, Lesson.Status.PLANNED}:
        return redirect("lessons:today")
    return redirect("lessons:lesson", code=lesson.code)
