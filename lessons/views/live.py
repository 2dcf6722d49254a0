"""The light answer that an open lesson page asks for each second while balls may come by themselves."""

from typing import Any
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_GET

from lessons import access
from lessons.models import Block, Lesson, Shot
from lessons.queries import live as queries
from lessons.queries.balls import ball_row
from lessons.queries.lesson import topline
from lessons.queries.readings import reading
from lessons.queries.stops.balls import stop_of
from lessons.stops import draw_stop

FAST, SLOW = 0.5, 15
"""Seconds between two questions: while balls may come, and while none can."""


@require_GET
def live(request: HttpRequest, code: Any) -> HttpResponse:
    """Answer with the parts of the page that new balls change; 204 where nothing is new. Three queries then.

    The page sends what it knows: its block, its newest ball, how many balls wait, and its pace.
    """
    lesson = access.lesson_for(coach=request.user, code=code)
    every = FAST if queries.attached(lesson=lesson, now=timezone.now()) else SLOW
    waiting = queries.waiting_balls().count()
    new = queries.came_in(lesson=lesson, after=_code(request.GET.get("after")))
    knows = (request.GET.get("waiting"), request.GET.get("every"))
    if not new and knows == (str(waiting), str(every)):
        return HttpResponse(status=204)
    block = queries.block_shown(lesson=lesson, code=_code(request.GET.get("block")))
    if block is None:
        return HttpResponse(status=204)
    context = {
        "lesson": lesson, "student": lesson.student, "block": block, "new": new, "waiting": waiting,
        "every": every, "comes": every == FAST,
        "later": queries.later_blocks(lesson=lesson, block=block),
        "after": new[-1].key if new else request.GET.get("after", ""), **_parts(lesson, block, new),
    }
    return render(request, "lessons/_live_answer.html", context)


def _parts(lesson: Lesson, block: Block, new: list[Shot]) -> dict[str, Any]:
    """Return what the new balls change on the page; nothing where there are none."""
    if not new:
        return {}
    block.lesson = lesson
    left = lesson.student.left_handed
    return {
        "rows": [ball_row(shot, left_handed=left) for shot in new if shot.block_id == block.pk],
        **topline(lesson=lesson, block=block), "reading": reading(block, left_handed=left),
        "stop": draw_stop(lesson=lesson, slug=stop_of(block), is_open=False),
    }


def _code(text: str | None) -> UUID | None:
    try:
        return UUID(text) if text else None
    except ValueError:
        return None
