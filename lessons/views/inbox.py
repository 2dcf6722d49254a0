"""The inbox: balls that came while no lesson was open for them."""

from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from academy.access import require_coach
from lessons.forms.sources import InboxForm
from lessons.models import LiveBall
from lessons.queries import live
from lessons.services import inbox as service


@require_http_methods(["GET", "POST"])
def inbox(request: HttpRequest) -> HttpResponse:
    """Show what waits; POST puts chosen balls into a lesson, away, or back."""
    require_coach(coach=request.user)
    form = InboxForm(
        request.POST or None, balls=LiveBall.objects.all(), places=live.places(coach=request.user, now=timezone.now())
    )
    if request.method == "POST" and form.is_valid():
        try:
            messages.success(request, _done(request, form))
            return redirect("lessons:inbox")
        except ValidationError as error:
            form.add_error("place", error)
    return _page(request, form)


def _done(request: HttpRequest, form: InboxForm) -> str:
    """Do what was chosen and return it as a sentence."""
    balls, by = list(form.cleaned_data["balls"]), request.user
    if form.cleaned_data["do"] == "discard":
        return f"{_count(service.discard(by=by, balls=balls))} discarded; they can be put back for a week."
    if form.cleaned_data["do"] == "back":
        return f"{_count(service.put_back(by=by, balls=balls))} put back."
    lesson, block = form.chosen
    count = service.assign(by=by, balls=balls, lesson=lesson, block=block)
    return f"{_count(count)} put into the lesson of {lesson.student.name}. Undo there takes them back."


def _count(balls: int) -> str:
    return f"{balls} ball{'' if balls == 1 else 's'}"


def _page(request: HttpRequest, form: InboxForm) -> HttpResponse:
    waiting = live.waiting_balls()
    context: dict[str, Any] = {
        "form": form, "waits": waiting.count(), "waiting": live.ball_lines(list(waiting[:live.MOST_BALLS])),
        "discarded": live.ball_lines(list(live.discarded_balls(now=timezone.now())[:live.MOST_BALLS])),
    }
    return render(request, "lessons/inbox.html", context, status=422 if form.errors else 200)
