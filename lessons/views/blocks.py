"""Blocks: the next one with one condition changed, a new one from the form, conditions corrected."""

import uuid
from typing import Any

from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from lessons import access
from lessons.forms.blocks import BlockForm, initial_of
from lessons.models import Block, Lesson
from lessons.queries.lesson import blocks_of, other_aids
from lessons.services import lessons as service

from .page import render_refused


@require_POST
def block_next(request: HttpRequest, code: Any) -> HttpResponse:
    """Open the next block: like this one, with the aids taken away or laid down again."""
    block = access.block_for(coach=request.user, code=code)
    change = request.POST.get("change")
    values: dict[str, Any] = {"aids": other_aids(block)["aids"]} if change in {"aids_off", "aids_on"} else {}
    values["feedback_shown"] = service.shown_after(block)
    try:
        opened = service.add_block(by=request.user, lesson=block.lesson, copy_of=block, key=_key(request), **values)
    except ValidationError as error:
        return render_refused(request, block=block, sentence=" ".join(error.messages))
    return _to(opened)


@require_http_methods(["GET", "POST"])
def block_new(request: HttpRequest, code: Any) -> HttpResponse:
    """Open a block with any conditions; the form starts from the lesson's last block."""
    lesson = access.lesson_for(coach=request.user, code=code)
    blocks = blocks_of(lesson)
    initial = {"effort_pct": 100, "wanted_balls": 10, "intent": "straight"}
    if blocks:
        initial = {**initial_of(blocks[-1]), "feedback_shown": service.shown_after(blocks[-1])}
    form = BlockForm(request.POST or None, student=lesson.student, initial={**initial, "purpose": ""})
    if request.method == "POST" and form.is_valid():
        try:
            return _to(service.add_block(by=request.user, lesson=lesson, key=_key(request), **form.values))
        except ValidationError as error:
            form.add_error(None, error)
    return _form(request, lesson, form, block=None)


@require_http_methods(["GET", "POST"])
def block_change(request: HttpRequest, code: Any) -> HttpResponse:
    """Correct the conditions of a block; its balls stay."""
    block = access.block_for(coach=request.user, code=code)
    form = BlockForm(request.POST or None, student=block.lesson.student, initial=initial_of(block))
    if request.method == "POST" and form.is_valid():
        service.change_block(by=request.user, block=block, **form.values)
        return _to(block)
    return _form(request, block.lesson, form, block=block)


@require_POST
def block_reading(request: HttpRequest, code: Any) -> HttpResponse:
    """Switch a block between typed numbers and calls by eye."""
    block = access.block_for(coach=request.user, code=code)
    calls = block.reading == Block.Reading.CALLS
    service.change_block(
        by=request.user, block=block, reading=Block.Reading.NUMBERS if calls else Block.Reading.CALLS
    )
    return _to(block)


def _form(request: HttpRequest, lesson: Lesson, form: BlockForm, *, block: Block | None) -> HttpResponse:
    context = {"lesson": lesson, "student": lesson.student, "form": form, "current": block, "key": uuid.uuid4()}
    return render(request, "lessons/block_form.html", context, status=422 if form.errors else 200)


def _key(request: HttpRequest) -> uuid.UUID | None:
    """Return the key that makes a double click one block; a request without one opens a block each time."""
    try:
        return uuid.UUID(request.POST.get("key", ""))
    except ValueError:
        return None


def _to(block: Block) -> HttpResponse:
    return redirect(f"{reverse('lessons:lesson', args=[block.lesson.code])}?block={block.code}#balls")
