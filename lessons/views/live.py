"""The light answer that an open lesson page asks for every few moments: balls that came by themselves, or that
somebody entered on another device, and everything else that was written in the lesson meanwhile."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_GET

from lessons import access
from lessons.models import Block, Lesson
from lessons.queries.lesson import blocks_of, listed, stopped, topline
from lessons.queries.live import live_context, state_of
from lessons.queries.readings import reading
from lessons.stops import shut_stops

from .page import asks_for_all


@require_GET
def live(request: HttpRequest, code: Any) -> HttpResponse:
    """Answer with the parts of the page that have changed; 204 where nothing has. Four queries then.

    The page sends what it knows: its block, how far the history had gone, how many balls wait, and its pace.
    """
    lesson = access.lesson_for(coach=request.user, code=code)
    state = state_of(lesson=lesson, now=timezone.now())
    knows = {name: request.GET.get(name) for name in ("mark", "waiting", "every")}
    if all(knows[name] == str(state[name]) for name in knows):
        return HttpResponse(status=204)
    block = _block(lesson, request.GET.get("block"))
    if block is None:
        return HttpResponse(status=204)
    parts = _parts(request, lesson, block) if knows["mark"] != state["mark"] else {}
    context = {
        "lesson": lesson, "student": lesson.student, "current": block, **parts,
        "live": live_context(lesson=lesson, block=block, state=state, all_balls=asks_for_all(request)),
    }
    return render(request, "lessons/_live_answer.html", context)


def _parts(request: HttpRequest, lesson: Lesson, block: Block) -> dict[str, Any]:
    return {
        **listed(block=block, all_balls=asks_for_all(request)), **topline(lesson=lesson, block=block),
        "reading": reading(block, left_handed=lesson.student.left_handed), "lines": shut_stops(lesson),
        "stopped": stopped(block),
    }


def _block(lesson: Lesson, code: str | None) -> Block | None:
    """Return the block that the page shows: the one it names, else the newest."""
    blocks = blocks_of(lesson)
    return next((block for block in blocks if str(block.code) == code), blocks[-1] if blocks and not code else None)
