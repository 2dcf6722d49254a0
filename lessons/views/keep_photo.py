"""A photo that was measured: kept with the lesson where that was asked for and is allowed, dropped otherwise."""

import uuid
from typing import Any

from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone

from lessons.media.content import clean
from lessons.media.types import Refused
from lessons.models import Lesson
from lessons.services import media as service

DROPPED = "The photo was not kept."


def new_key() -> uuid.UUID:
    return uuid.uuid4()


def keep_photo(request: HttpRequest, *, lesson: Lesson, block: Any, phase: str, angle: str) -> str:
    """Keep the photo that came along and say so; without consent it is dropped unread and the reason said."""
    sent = request.FILES.get("photo")
    if sent is None or request.POST.get("keep") != "yes":
        return DROPPED
    try:
        if request.POST.get("yes"):
            service.say_yes(by=request.user, student=lesson.student, day=timezone.localdate())
        service.refuse_without_consent(student=lesson.student)
        service.attach(by=request.user, lesson=lesson, cleaned=clean(sent.read()), block=block, angle=angle,
                       phase=phase, aids=block.aids, keep_days=service.USUAL_DAYS, key=_key(request))
    except ValidationError as refused:
        return f"{DROPPED} {' '.join(refused.messages)}"
    except Refused as refused:
        return f"{DROPPED} {refused}"
    return "The photo stands with the lesson’s pictures."


def onward(request: HttpRequest, address: str) -> HttpResponse:
    """Lead to the next page: a script that sent the photo is told where, everybody else is redirected."""
    if not request.htmx:
        return redirect(address)
    return HttpResponse(status=204, headers={"HX-Redirect": address})


def _key(request: HttpRequest) -> uuid.UUID:
    try:
        return uuid.UUID(request.POST.get("key", ""))
    except ValueError:
        return uuid.uuid4()
