"""The stop “reason”: reading a block, ticking its checks with a number, confirming or overruling."""

from typing import Any

from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_GET, require_POST

from lessons import access
from lessons.forms.findings import DecideForm
from lessons.queries.stops import reason as query
from lessons.services.findings import decide_finding
from lessons.services.setup import note_setup

from .page import render_stop
from .setup import block_of, setup_form


@require_GET
def reason(request: HttpRequest, code: Any) -> HttpResponse:
    """Read another block of the lesson."""
    lesson = access.lesson_for(coach=request.user, code=code)
    block = block_of(lesson, request.GET.get("block"))
    return render_stop(request, lesson=lesson, slug="reason", extra=query.context(lesson, block))


@require_POST
def check(request: HttpRequest, code: Any) -> HttpResponse:
    """Tick a check with a number; the finding is read again with it."""
    lesson = access.lesson_for(coach=request.user, code=code)
    block = block_of(lesson, request.POST.get("block"))
    form = setup_form(request, lesson)
    form.is_valid()
    note_setup(by=request.user, lesson=lesson, category=block.category, numbers=form.entries,
               method=form.cleaned_data.get("method", ""))
    extra = {**query.context(lesson, block), "problems": form.problems}
    return render_stop(request, lesson=lesson, slug="reason", extra=extra, status=422 if form.problems else 200)


@require_POST
def decide(request: HttpRequest, code: Any) -> HttpResponse:
    """Confirm or overrule a finding."""
    lesson = access.lesson_for(coach=request.user, code=code)
    form = DecideForm(request.POST)
    block = block_of(lesson, request.POST.get("block"))
    problems = [f"{name}: {error}" for name, errors in form.errors.items() for error in errors]
    if form.is_valid():
        got = {name: form.cleaned_data[name] for name in ("pattern", "decision", "reason")}
        try:
            decide_finding(by=request.user, lesson=lesson, block=block, **got)
        except ValidationError as error:
            problems = error.messages
    extra = {**query.context(lesson, block), "problems": problems, "tried": request.POST.get("pattern")}
    return render_stop(request, lesson=lesson, slug="reason", extra=extra, status=422 if problems else 200)
