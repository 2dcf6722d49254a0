"""The stop “agree”: drills with their dose, the notes, and the finish with a private link."""

from typing import Any

from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.cache import patch_vary_headers
from django.views.decorators.http import require_GET, require_POST

from academy.access import belonging
from academy.qr import qr_svg
from lessons import access
from lessons.forms.agree import DoseForm, FinishForm, NoteForm
from lessons.models import Lesson
from lessons.queries.drills import chooser, filters_from
from lessons.services import drills as drill_service
from lessons.services.agree import Finished, finish_visit
from lessons.services.lessons import change_lesson

from .page import render_stop


@require_GET
def drills(request: HttpRequest, code: Any) -> HttpResponse:
    """Show the drills that fit place, kit and minutes."""
    lesson = access.lesson_for(coach=request.user, code=code)
    return _drills(request, lesson, filters=request.GET)


@require_POST
def drill_give(request: HttpRequest, code: Any) -> HttpResponse:
    """Give a drill."""
    lesson = access.lesson_for(coach=request.user, code=code)
    problems = []
    try:
        drill_service.give_drill(by=request.user, lesson=lesson, slug=request.POST.get("drill", ""))
    except ValidationError as error:
        problems = error.messages
    return _drills(request, lesson, filters=request.POST, problems=problems)


@require_POST
def drill_dose(request: HttpRequest, code: Any, assignment: Any) -> HttpResponse:
    """Store the dose of a drill that was given."""
    lesson = access.lesson_for(coach=request.user, code=code)
    given = belonging(rows=lesson.assignments.filter(removed_at__isnull=True), code=assignment)
    form = DoseForm(request.POST)
    if form.is_valid():
        drill_service.change_dose(by=request.user, assignment=given, **form.cleaned_data)
    problems = [f"{given.name}: {error}" for errors in form.errors.values() for error in errors]
    return _drills(request, lesson, filters=request.POST, problems=problems)


@require_POST
def drill_back(request: HttpRequest, code: Any, assignment: Any) -> HttpResponse:
    """Take a drill back."""
    lesson = access.lesson_for(coach=request.user, code=code)
    given = belonging(rows=lesson.assignments.filter(removed_at__isnull=True), code=assignment)
    drill_service.take_drill_back(by=request.user, assignment=given)
    return _drills(request, lesson, filters=request.POST)


@require_POST
def notes(request: HttpRequest, code: Any) -> HttpResponse:
    """Keep what is written in the notes while the lesson goes on."""
    lesson = access.lesson_for(coach=request.user, code=code)
    form = NoteForm(request.POST)
    if form.is_valid():
        change_lesson(by=request.user, lesson=lesson, sentence="Notes written", **form.values)
        if request.htmx:
            return HttpResponse(status=204)
    return render_stop(request, lesson=lesson, slug="agree", status=200 if form.is_valid() else 422)


@require_POST
def finish(request: HttpRequest, code: Any) -> HttpResponse:
    """Finish the lesson and show the private link, once."""
    lesson = access.lesson_for(coach=request.user, code=code)
    form = FinishForm(request.POST, lesson=lesson)
    done = _finished(request, lesson, form) if form.is_valid() else None
    if done is None:
        extra = {"problems": [error for errors in form.errors.values() for error in errors],
                 "note": request.POST.get("student_note", ""), "measure": request.POST.get("next_measure", "")}
        return render_stop(request, lesson=lesson, slug="agree", extra=extra, status=422)
    address = request.build_absolute_uri(f"/p/{done.token}/") if done.token else ""
    context = {"lesson": lesson, "student": lesson.student, "done": done, "address": address,
               "qr": qr_svg(text=address) if address else ""}
    return render(request, "lessons/finished.html", context)


def _finished(request: HttpRequest, lesson: Lesson, form: FinishForm) -> Finished | None:
    """Close the lesson; None, with the sentence on the form, where that is refused."""
    names = ("key", "next_date", "next_measure", "student_note", "private_note", "link", "guardian")
    try:
        return finish_visit(by=request.user, lesson=lesson, reflection=form.reflection,
                            **{name: form.cleaned_data[name] for name in names})
    except ValidationError as error:
        form.add_error(None, error)
        return None


def _drills(
    request: HttpRequest, lesson: Lesson, *, filters: Any, problems: list[str] | None = None
) -> HttpResponse:
    """Answer with the drills alone, or with the whole page for a browser without scripts."""
    data = {**chooser(lesson, filters_from(filters)), "problems": problems or []}
    status = 422 if problems else 200
    if not request.htmx:
        return render_stop(request, lesson=lesson, slug="agree", extra=data, status=status)
    response = render(request, "lessons/stops/_drills.html", {"lesson": lesson, "data": data}, status=status)
    patch_vary_headers(response, ["HX-Request"])
    return response
