"""An on-course lesson: one shot after the other, the last one taken back, and the summary."""

import uuid
from typing import Any

from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_POST

from lessons import access
from lessons.care import OFF, OFF_TITLE, long_game_off
from lessons.forms.course import CourseShotForm
from lessons.models import Lesson
from lessons.queries.course import course_page
from lessons.services import course as service


@require_GET
def course(request: HttpRequest, code: Any) -> HttpResponse:
    """Show the shots of a lesson on the course and the form for the next one."""
    return _draw(request, access.lesson_for(coach=request.user, code=code))


@require_POST
def course_shot(request: HttpRequest, code: Any) -> HttpResponse:
    """Store a shot; “and on to the next hole” begins it."""
    lesson = access.lesson_for(coach=request.user, code=code)
    form = CourseShotForm(request.POST)
    if not form.is_valid():
        return _draw(request, lesson, form=form, status=422)
    try:
        shot = service.add_course_shot(by=request.user, lesson=lesson, **form.values)
    except ValidationError as error:
        form.add_error(None, error)
        return _draw(request, lesson, form=form, status=422)
    hole = min(shot.hole + 1, 18) if "next" in request.POST else shot.hole
    return redirect(f"{reverse('lessons:course', args=[lesson.code])}?hole={hole}#shot")


@require_POST
def course_undo(request: HttpRequest, code: Any) -> HttpResponse:
    """Take the last shot back."""
    lesson = access.lesson_for(coach=request.user, code=code)
    service.undo_course_shot(by=request.user, lesson=lesson)
    return redirect("lessons:course", code=lesson.code)


def _draw(
    request: HttpRequest, lesson: Lesson, *, form: CourseShotForm | None = None, status: int = 200
) -> HttpResponse:
    page = course_page(lesson=lesson)
    asked = request.GET.get("hole", "")
    hole = int(asked) if asked.isdecimal() and len(asked) < 3 else page["hole"]
    form = form or CourseShotForm(initial={"key": uuid.uuid4(), "hole": hole})
    off = {"off": OFF, "off_title": OFF_TITLE} if long_game_off(lesson) else {}
    return render(request, "lessons/course.html", {**page, **off, "form": form}, status=status)
