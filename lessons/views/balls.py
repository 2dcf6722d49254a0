"""Balls: stored one by one the moment they are entered, corrected, taken out, counted again."""

from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from lessons import access
from lessons.forms.balls import BallForm, ExcludeForm, FieldsForm, states_right_as_plus
from lessons.models import Block, Shot
from lessons.queries.balls import ball_row, typed_value
from lessons.queries.doubts import doubt_about
from lessons.queries.keypad import contact_keys, shape_keys
from lessons.queries.lesson import topline
from lessons.queries.readings import reading
from lessons.services import shots as service
from metrics.fields import FIELDS

from .page import FIELDS_KEY, render_refused


@require_POST
def ball_add(request: HttpRequest, code: Any) -> HttpResponse:
    """Store one ball. A script gets the changed parts of the page, or one sentence with status 422; a plain form
    gets the page, with the sentence and what was typed where the ball could not be stored."""
    block = access.block_for(coach=request.user, code=code, for_ball=True)
    form = BallForm(request.POST, block=block)
    problem = "" if form.is_valid() else form.first_error
    if not problem:
        try:
            shot, is_new = service.add_ball(
                by=request.user, block=block, key=form.cleaned_data["key"], numbers=form.numbers, calls=form.calls,
                source="called" if block.reading == Block.Reading.CALLS else "typed",
                hit_at=form.cleaned_data["hit_at"],
            )
        except ValidationError as error:
            problem = " ".join(error.messages)
    if problem and request.headers.get("X-Parts"):
        return HttpResponse(problem, status=422, content_type="text/plain; charset=utf-8")
    if problem:
        return render_refused(request, block=block, sentence=f"Not stored. {problem}", typed=request.POST)
    return _after(request, block, shot, is_newest=is_new)


@require_http_methods(["GET", "POST"])
def ball(request: HttpRequest, key: Any) -> HttpResponse:
    """Show one ball to be corrected; POST stores the correction."""
    shot = access.shot_for(coach=request.user, key=key)
    form = BallForm(_whole(request, shot) if request.method == "POST" else None, block=shot.block)
    problem = ""
    if request.method == "POST":
        problem = _correct(request, shot, form)
        if not problem:
            return _back(shot.block)
    return render(request, "lessons/ball.html", _ball_page(request, shot, problem), status=422 if problem else 200)


@require_POST
def ball_exclude(request: HttpRequest, key: Any) -> HttpResponse:
    """Leave a ball out of the numbers, with a reason; it stays on the list."""
    shot = access.shot_for(coach=request.user, key=key)
    form = ExcludeForm(request.POST)
    if not form.is_valid():
        problem = "Say why this ball does not count; it stays on the list with the reason."
        return render(request, "lessons/ball.html", _ball_page(request, shot, problem), status=422)
    service.change_ball(by=request.user, shot=shot, excluded_reason=form.cleaned_data["reason"])
    return _back(shot.block)


@require_POST
def ball_count(request: HttpRequest, key: Any) -> HttpResponse:
    """Let an excluded ball count again."""
    shot = access.shot_for(coach=request.user, key=key)
    service.change_ball(by=request.user, shot=shot, excluded_reason="")
    return _back(shot.block)


@require_POST
def ball_out(request: HttpRequest, key: Any) -> HttpResponse:
    """Take a ball back. One that is out already is out: a re-sent request changes nothing."""
    try:
        shot = access.shot_for(coach=request.user, key=key)
    except Http404:
        return HttpResponse(status=204)
    service.remove_ball(by=request.user, shot=shot)
    return _after(request, shot.block, None)


@require_POST
def ball_fields(request: HttpRequest, code: Any) -> HttpResponse:
    """Choose which numbers are typed for each ball; remembered for this device on this machine."""
    block = access.block_for(coach=request.user, code=code)
    form = FieldsForm(request.POST)
    if form.is_valid():
        chosen = dict(request.session.get(FIELDS_KEY, {}))
        chosen[str(block.lesson.device_id or "eyes")] = form.cleaned_data["fields_shown"]
        request.session[FIELDS_KEY] = chosen
    return _back(block)


def _after(request: HttpRequest, block: Block, shot: Shot | None, *, is_newest: bool = False) -> HttpResponse:
    """Answer with the parts of the page that a ball changes at once, each under its own id. The open page asks for
    the rest, such as the lines of the stops, when no more balls come."""
    doubt = doubt_about(shot, block=block, system=system_of(request)) if is_newest else ""
    if not request.headers.get("X-Parts"):
        if doubt:
            messages.warning(request, f"Ball {shot.number} is stored. {doubt} Its number on the list opens it.")
        return _back(block)
    lesson, left = block.lesson, block.lesson.student.left_handed
    row = ball_row(shot, left_handed=left) if shot else None
    top = {"current": block, "last": row} if is_newest else topline(lesson=lesson, block=block)
    return render(request, "lessons/_after_ball.html", {
        "lesson": lesson, "student": lesson.student, **top, "rows": [row] if row else [],
        "reading": reading(block, left_handed=left), "doubt": doubt,
    })


def system_of(request: HttpRequest) -> str:
    """Return the units this reader works in."""
    return request.user.units or request.academy.units


def _back(block: Block) -> HttpResponse:
    return redirect(f"{reverse('lessons:lesson', args=[block.lesson.code])}?block={block.code}#balls")


def _whole(request: HttpRequest, shot: Shot) -> dict[str, Any]:
    """Add what the correction form does not ask for to what it sent."""
    return {**request.POST.dict(), "key": str(shot.key), "hit_at": shot.hit_at.isoformat()}


def _correct(request: HttpRequest, shot: Shot, form: BallForm) -> str:
    """Store the correction and return an empty sentence, or what is wrong with it."""
    if not form.is_valid():
        return form.first_error
    shown = [key for key in FIELDS if key in form.data]
    values = {**{key: form.numbers.get(key) for key in shown}, **form.calls}
    try:
        service.change_ball(by=request.user, shot=shot, **values)
    except ValidationError as error:
        return " ".join(error.messages)
    return ""


def _ball_page(request: HttpRequest, shot: Shot, problem: str) -> dict[str, Any]:
    block, left = shot.block, shot.block.lesson.student.left_handed
    system = system_of(request)
    mirrored = states_right_as_plus(block)
    keys = [key for key in FIELDS if getattr(shot, key) is not None]
    typed = [(key, typed_value(key=key, value=getattr(shot, key), system=system, mirrored=mirrored)) for key in keys]
    return {
        "shot": shot, "current": block, "lesson": block.lesson, "student": block.lesson.student, "problem": problem,
        "row": ball_row(shot, left_handed=left), "typed": [(key, request.POST.get(key, text)) for key, text in typed],
        "shapes": shape_keys(left_handed=left), "contacts": contact_keys(), "mirrored": mirrored,
        "shape": f"{shot.called_start},{shot.called_curve}" if shot.called_start is not None else "",
    }
