"""The stop “look”: setup numbers as they are typed, and the student's own explanation."""

from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.cache import patch_vary_headers
from django.views.decorators.http import require_POST

from lessons import access
from lessons.forms.setup import SetupForm
from lessons.models import Block, Lesson
from lessons.queries.lesson import blocks_of
from lessons.queries.setup import shoulder_width, work_block
from lessons.queries.stops import look as query
from lessons.services import lessons as lesson_service
from lessons.services.setup import note_setup

from .page import render_stop


@require_POST
def look(request: HttpRequest, code: Any) -> HttpResponse:
    """Store setup numbers. What is right is stored, what is not is named."""
    lesson = access.lesson_for(coach=request.user, code=code)
    form = setup_form(request, lesson)
    form.is_valid()
    block = block_of(lesson, request.POST.get("block"))
    stored = note_setup(by=request.user, lesson=lesson, category=block.category, numbers=form.entries,
                        method=form.cleaned_data.get("method", ""))
    extra = {"problems": form.problems, "said": "Stored." if stored else ""}
    status = 422 if form.problems else 200
    if not request.htmx:
        return render_stop(request, lesson=lesson, slug="look", extra=extra, status=status)
    context = {"lesson": lesson, "data": {**query.context(lesson), **extra}}
    response = render(request, "lessons/stops/_look_answer.html", context, status=status)
    patch_vary_headers(response, ["HX-Request"])
    return response


@require_POST
def belief(request: HttpRequest, code: Any) -> HttpResponse:
    """Keep what the student takes for the cause."""
    lesson = access.lesson_for(coach=request.user, code=code)
    words = request.POST.get("belief", "").replace("\0", "").strip()[:200]
    sentence = "The student’s own explanation"
    lesson_service.change_lesson(by=request.user, lesson=lesson, sentence=sentence, belief=words)
    return render_stop(request, lesson=lesson, slug="look")


def setup_form(request: HttpRequest, lesson: Lesson) -> SetupForm:
    """Return the form for what was typed; of a script's request only the box that was left is read."""
    return SetupForm(
        request.POST, system=request.user.units or request.academy.units, shoulder_width_cm=shoulder_width(lesson),
        only=request.headers.get("HX-Trigger-Name"),
    )


def block_of(lesson: Lesson, code: str | None) -> Block:
    """Return one of the lesson's own blocks, the one in work where none is named."""
    blocks = {str(block.code): block for block in blocks_of(lesson)}
    block = blocks.get(code) if code else work_block(lesson)
    if block is None:
        raise Http404("There is no such block.")
    return block
