"""One booking: its page, its move, its cancellation, and the student's calendar file."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_GET, require_POST

from academy.access import belonging, require_roster
from academy.journal import CannotUndo
from academy.models import ShareLink
from lessons import access
from lessons.forms.diary import CancelForm, MoveForm, local_text
from lessons.models import Lesson
from lessons.queries import bookings
from lessons.queries.cancelled import cancelled_hours
from lessons.queries.clashes import warnings_of_series
from lessons.queries.diary import coaches_of
from lessons.queries.monday.drafts import drafts_of_hours
from lessons.services import diary as service

from .diary import calendar_file, to_diary
from .holder import for_link_holder


@require_GET
def lesson(request: HttpRequest, code: Any) -> HttpResponse:
    """Show one booking with what can be done about it."""
    return _draw(request, access.booking_for(coach=request.user, code=code))


@require_POST
def move(request: HttpRequest, code: Any) -> HttpResponse:
    """Give a lesson another hour, by the form or by hand in the diary. What speaks against it is said first."""
    found = access.booking_for(coach=request.user, code=code)
    form = MoveForm(request.POST, coaches=_coaches(request, found), series=True)
    if not form.is_valid():
        return _draw(request, found, move_form=form, status=422)
    against = _against(request, found, form)
    if against and not form.cleaned_data["anyway"]:
        form.ask_anyway()
        return _draw(request, found, move_form=form, against=against, status=422)
    values = form.values()
    step = service.move_series if values.pop("whole_series") else service.move_lesson
    return _step(request, found, step, lesson=found, **values)


@require_POST
def cancel(request: HttpRequest, code: Any) -> HttpResponse:
    """Cancel a lesson with its reason."""
    found = access.booking_for(coach=request.user, code=code)
    form = CancelForm(request.POST, series=True)
    if not form.is_valid():
        return _draw(request, found, cancel_form=form, status=422)
    values = dict(form.cleaned_data)
    lessons = service.series_after(found) if values.pop("whole_series") else [found]
    return _step(request, found, service.cancel_lessons, lessons=lessons, **values)


@require_POST
def no_show(request: HttpRequest, code: Any) -> HttpResponse:
    """Note that the student did not come."""
    found = access.booking_for(coach=request.user, code=code)
    return _step(request, found, service.mark_no_show, lesson=found)


@require_POST
def undo(request: HttpRequest, code: Any) -> HttpResponse:
    """Take the last change of the booking back."""
    found = access.booking_for(coach=request.user, code=code)
    try:
        change = service.undo_booking(by=request.user, code=found.code)
        messages.success(request, f"Taken back: {change}." if change else "There is nothing left to take back.")
    except CannotUndo as reason:
        messages.error(request, f"Not taken back. {reason}")
    still = Lesson.objects.select_related("coach").filter(pk=found.pk).first()
    return to_diary(still) if still else redirect("lessons:diary")


@require_GET
def booking_file(request: HttpRequest, code: Any) -> HttpResponse:
    """Hand one booking over as a calendar file."""
    found = access.booking_for(coach=request.user, code=code)
    return calendar_file(bookings.booking_bytes(lesson=found), "lesson.ics")


@require_GET
def drafts(request: HttpRequest) -> HttpResponse:
    """Show messages for those whose hour was cancelled: a class, one booking, or a coach's day. Nothing is sent."""
    require_roster(coach=request.user)
    found = cancelled_hours(viewer=request.user, asked=request.GET)
    return render(request, "lessons/monday/drafts.html", {"drafts": drafts_of_hours(found), "hours": True})


@for_link_holder
@require_GET
def my_booking_file(request: HttpRequest, link: ShareLink, code: Any) -> HttpResponse:
    """Hand a student's own booking over as a calendar file."""
    rows = link.student.lessons.select_related("coach", "venue", "booking")
    found = belonging(rows=rows, code=code)
    return calendar_file(bookings.booking_bytes(lesson=found), "lesson.ics")


def _against(request: HttpRequest, found: Lesson, form: MoveForm) -> list[str]:
    """Return what speaks against the new hour, or against any of a series that moves with it."""
    slot = form.slot(student=found.student)
    whole = form.cleaned_data.get("whole_series")
    moves = service.moves_of_series(lesson=found, starts_at=slot.starts_at) if whole else [(found, slot.starts_at)]
    slots = [replace(slot, starts_at=moment) for _, moment in moves if moment is not None]
    return warnings_of_series(slots=slots, viewer=request.user, moving=[lesson for lesson, _ in moves])


def _step(request: HttpRequest, found: Lesson, step: Callable[..., Any], **values: Any) -> HttpResponse:
    try:
        step(by=request.user, **values)
    except ValidationError as error:
        messages.error(request, " ".join(error.messages))
        return redirect("lessons:booking", code=found.code)
    return to_diary(Lesson.objects.select_related("coach").get(pk=found.pk))


def _draw(request: HttpRequest, found: Lesson, *, status: int = 200, **more: Any) -> HttpResponse:
    page = bookings.booking_page(lesson=found, viewer=request.user)
    booking = page["booking"]
    first = {
        "starts_at": local_text(found), "minutes": found.minutes, "coach": found.coach.code,
        "venue": found.venue.code if found.venue else "", "bay": booking.bay if booking else "",
    }
    forms = {
        "move_form": MoveForm(initial=first, coaches=_coaches(request, found), series=page["series"]),
        "cancel_form": CancelForm(series=page["series"]),
    }
    return render(request, "lessons/diary/lesson.html", {**page, **forms, **more}, status=status)


def _coaches(request: HttpRequest, found: Lesson) -> list:
    """A coach may keep the stand-in who gives the lesson, and an owner may choose anybody."""
    coaches = coaches_of(request.user)
    return coaches if found.coach in coaches else [*coaches, found.coach]
