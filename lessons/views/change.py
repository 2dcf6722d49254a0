"""The stop “change”: storing the one change."""

from typing import Any

from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_POST

from lessons import access
from lessons.forms.change import ChangeForm
from lessons.queries.change_words import expected_of
from lessons.queries.setup import shoulder_width
from lessons.queries.stops.change import offers
from lessons.services.drills import give_drill
from lessons.services.prescriptions import choose_change

from .page import render_stop


@require_POST
def change(request: HttpRequest, code: Any) -> HttpResponse:
    """Store the one change, and the drill that was chosen with it."""
    lesson = access.lesson_for(coach=request.user, code=code)
    form = ChangeForm(request.POST, system=request.user.units or request.academy.units,
                      shoulder_width_cm=shoulder_width(lesson))
    problems = [error for errors in form.errors.values() for error in errors]
    if not problems:
        try:
            expected = expected_of(offers(lesson)[0], form.values)
            choose_change(by=request.user, lesson=lesson, pattern=form.cleaned_data["pattern"],
                          expected=expected, **form.values)
            if form.cleaned_data["drill"]:
                give_drill(by=request.user, lesson=lesson, slug=form.cleaned_data["drill"])
        except ValidationError as error:
            problems = error.messages
    extra = {"problems": problems, "start": request.POST.dict()} if problems else {}
    return render_stop(request, lesson=lesson, slug="change", extra=extra, status=422 if problems else 200)
