"""Ten setups without a ball: typed, taken from the board, or read from a photo."""

from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from lessons import access
from lessons.forms.ten_setups import TenSetupsForm
from lessons.models import Lesson, SetupSeries
from lessons.models.block import AIDS
from lessons.queries.lesson import blocks_of
from lessons.queries.setup import shoulder_width, work_block
from lessons.queries.ten_setups import COLUMNS, MORE, page
from lessons.services import ten_setups as service

from .setup import block_of


@require_http_methods(["GET", "POST"])
def ten_setups(request: HttpRequest, code: Any) -> HttpResponse:
    """Show the newest series, or the one asked for; a POST stores what was typed into it."""
    lesson = access.lesson_for(coach=request.user, code=code)
    if work_block(lesson) is None:
        return render(request, "lessons/ten_setups.html", {"lesson": lesson, "student": lesson.student})
    asked = request.POST if request.method == "POST" else request.GET
    series, problems = series_of(lesson, asked.get("series")), []
    if request.method == "POST" and series is not None:
        form = TenSetupsForm(request.POST, system=request.user.units or request.academy.units,
                             shoulder_width_cm=shoulder_width(lesson))
        form.is_valid()
        stored = service.note_looks(by=request.user, series=series, numbers=form.entries,
                                    method=form.cleaned_data.get("method", ""))
        if not form.problems:
            messages.success(request, f"{stored} number{'' if stored == 1 else 's'} stored.")
            return redirect(address(lesson, series))
        problems = form.problems
    block = block_of(lesson, asked.get("block")) if series is None else _block_for(lesson, series)
    typed = request.POST.dict() if problems else None
    whole = page(lesson=lesson, block=block, series=series, wide=asked.get("more") == "yes", typed=typed)
    context = {**whole, "problems": problems, "aids": AIDS.items()}
    return render(request, "lessons/ten_setups.html", context, status=422 if problems else 200)


@require_POST
def ten_setups_begin(request: HttpRequest, code: Any) -> HttpResponse:
    """Begin a series for a club, with or without aids."""
    lesson = access.lesson_for(coach=request.user, code=code)
    aids = [aid for aid in request.POST.getlist("aids") if aid in AIDS]
    block = block_of(lesson, request.POST.get("block"))
    series = service.open_series(by=request.user, lesson=lesson, block=block, aids=aids)
    return redirect(address(lesson, series))


@require_POST
def ten_setups_board(request: HttpRequest, code: Any) -> HttpResponse:
    """Take the board's numbers as the next setup."""
    lesson = access.lesson_for(coach=request.user, code=code)
    series = series_of(lesson, request.POST.get("series"))
    if series is None:
        messages.error(request, "Begin ten setups first; then the board’s numbers can be taken over.")
        return redirect("lessons:ten_setups", lesson.code)
    phase = "after" if request.POST.get("phase") == "after" else "before"
    n = service.take_from_board(by=request.user, series=series, phase=phase, checkpoints=(*COLUMNS, *MORE))
    said = f"The board’s numbers stand as setup {n}." if n else "The board holds none of these numbers yet."
    messages.success(request, said)
    return redirect(address(lesson, series))


def series_of(lesson: Lesson, code: str | None) -> SetupSeries | None:
    """Return one of the lesson's own series, the newest where none is named; a wrong code is a missing page."""
    present = {str(one.code): one for one in lesson.setup_series.filter(removed_at__isnull=True)}
    if code and code not in present:
        raise Http404("There are no such setups.")
    series = present[code] if code else next(reversed(present.values()), None)
    if series is not None:
        series.lesson = lesson
    return series


def address(lesson: Lesson, series: SetupSeries) -> str:
    return f"{reverse('lessons:ten_setups', args=[lesson.code])}?series={series.code}"


def _block_for(lesson: Lesson, series: SetupSeries) -> Any:
    """The block whose windows count: of the series' kind of club, else the one in work."""
    same = [block for block in blocks_of(lesson) if block.category == series.category]
    return same[-1] if same else work_block(lesson)
