"""Pictures and clips of a lesson: kept with consent, shown in pairs, handed out by the access judge alone."""

import uuid
from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from academy.models import ShareLink
from lessons import access
from lessons.forms.media import AttachmentForm
from lessons.media.allowed import allowed_for
from lessons.queries.lesson import blocks_of
from lessons.queries.media import pairs_of_lesson
from lessons.queries.setup import work_block
from lessons.services import media as service

from .file_answer import file_answer
from .holder import for_link_holder


@require_http_methods(["GET", "POST"])
def pictures(request: HttpRequest, code: Any) -> HttpResponse:
    """Show the pairs of a lesson; a POST keeps what was sent."""
    lesson = access.lesson_for(coach=request.user, code=code)
    blocks, here = blocks_of(lesson), work_block(lesson)
    allowed = allowed_for(student=lesson.student, day=timezone.localdate())
    fresh = {"key": uuid.uuid4(), "block": str(here.code) if here else "", "keep_days": 180}
    form = AttachmentForm(
        request.POST if request.method == "POST" else None, request.FILES or None, initial=fresh, blocks=blocks,
        allowed=allowed, first_name=lesson.student.first_name)
    if request.method == "POST" and form.is_valid():
        try:
            kept = _keep(request, lesson, form)
            messages.success(request, f"{kept} kept, without place, time and sound." if kept else "Nothing was kept.")
            return redirect("lessons:pictures", lesson.code)
        except ValidationError as error:
            form.add_error(None, error)
    context = {"lesson": lesson, "student": lesson.student, "form": form, "allowed": allowed, "has_block": bool(here),
               "pairs": pairs_of_lesson(lesson=lesson), "hidden": lesson.attachments.exists() and not allowed.show}
    return render(request, "lessons/pictures.html", context, status=422 if form.is_bound else 200)


@transaction.atomic
def _keep(request: HttpRequest, lesson: Any, form: AttachmentForm) -> str:
    """Note the yes where it was given just now, keep each half, and say how many."""
    if form.cleaned_data.get("yes"):
        service.say_yes(by=request.user, student=lesson.student, day=timezone.localdate())
    rows = [service.attach(by=request.user, lesson=lesson, **half) for half in form.halves]
    clips = sum(row.is_clip for row in rows)
    words = [(len(rows) - clips, "picture"), (clips, "clip")]
    return " and ".join(f"{n} {word}{'' if n == 1 else 's'}" for n, word in words if n)


@require_GET
def picture(request: HttpRequest, code: Any) -> HttpResponse:
    """Hand out a file to the coach, while consent lasts."""
    return file_answer(request, access.attachment_for(coach=request.user, code=code))


@require_POST
def picture_remove(request: HttpRequest, code: Any) -> HttpResponse:
    """Take a picture out; the lesson's undo brings it back until the next day."""
    row = access.attachment_for(coach=request.user, code=code)
    service.remove(by=request.user, attachment=row)
    messages.success(request, "Taken out. It is deleted tomorrow; until then the lesson’s history can bring it back.")
    return redirect("lessons:pictures", row.lesson.code)


@for_link_holder
@require_GET
def my_picture(request: HttpRequest, link: ShareLink, code: Any) -> HttpResponse:
    """Hand out a file to the student or guardian, while consent lasts."""
    return file_answer(request, access.own_attachment_for(link=link, code=code))
