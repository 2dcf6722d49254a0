"""The diary: the week or the day, booking an hour, a coach's hours, and the address for calendar programs."""

import uuid

from django.contrib import messages
from django.contrib.auth.decorators import login_not_required
from django.core.exceptions import ValidationError
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from academy.access import require_roster
from academy.models import Student
from lessons import access, ics
from lessons.forms.diary import BookingForm, HoursForm, MoveForm
from lessons.forms.diary_filters import VIEWS, filters_from
from lessons.models import Lesson
from lessons.models.diary import CancelReason
from lessons.queries import bookings
from lessons.queries.clashes import warnings_of_series
from lessons.queries.diary import coaches_of, diary
from lessons.services import calendar as calendar_service
from lessons.services import diary as service


@require_GET
def page(request: HttpRequest) -> HttpResponse:
    """Show the diary; what is shown stands in the address."""
    require_roster(coach=request.user)
    coaches = coaches_of(request.user)
    found = diary(viewer=request.user, filters=filters_from(request.GET, viewer=request.user, coaches=coaches))
    context = {
        **found, "coaches": coaches, "views": VIEWS, "today": timezone.localdate(),
        "move_form": MoveForm(coaches=coaches),
        "changed": bookings.changed(viewer=request.user, code=request.GET.get("changed", "")),
        "waiting": bookings.waiting_for(viewer=request.user),
    }
    return render(request, "lessons/diary/page.html", context)


@require_http_methods(["GET", "POST"])
def book(request: HttpRequest) -> HttpResponse:
    """Book an hour, once or every week. What speaks against it is said first."""
    require_roster(coach=request.user)
    form = _booking_form(request)
    against: list[str] = []
    if request.method == "POST" and form.is_valid():
        values = form.values()
        against = warnings_of_series(slots=form.slots(), viewer=request.user)
        if not against or form.cleaned_data["anyway"]:
            try:
                return _booked(request, service.book_weekly(by=request.user, **values))
            except ValidationError as error:
                form.add_error(None, error)
        form.ask_anyway()
    context = {"form": form, "against": against}
    return render(request, "lessons/diary/book.html", context, status=422 if form.errors or against else 200)


def _booking_form(request: HttpRequest) -> BookingForm:
    coaches = coaches_of(request.user)
    asked = request.GET
    first = {
        "key": uuid.uuid4(), "starts_at": asked.get("at", ""), "student": asked.get("student", ""),
        "coach": asked.get("coach") or request.user.code, "bay": asked.get("bay", ""),
    }
    students = Student.objects.shown_to(request.user).here()
    return BookingForm(request.POST or None, coaches=coaches, students=students, initial=first)


def _booked(request: HttpRequest, done: service.Booked) -> HttpResponse:
    for sentence in done.skipped:
        messages.error(request, sentence)
    if len(done.lessons) > 1:
        messages.success(request, f"{len(done.lessons)} lessons are booked.")
    return to_diary(done.lessons[0])


def to_diary(lesson: Lesson) -> HttpResponse:
    """Lead to the week of a lesson, which says what was changed and offers to undo it."""
    day = timezone.localdate(lesson.starts_at)
    return redirect(f"{reverse('lessons:diary')}?day={day}&coach={lesson.coach.code}&changed={lesson.code}")


@require_POST
def weather(request: HttpRequest) -> HttpResponse:
    """Cancel what one coach still has planned today, classes apart, for the weather."""
    require_roster(coach=request.user)
    coach = access.diary_coach_for(viewer=request.user, code=request.POST.get("coach") or str(request.user.code))
    rows = bookings.planned_today(coach=coach, now=timezone.now())
    gone = service.cancel_lessons(by=request.user, lessons=rows, reason=CancelReason.WEATHER)
    messages.success(request, f"{gone} lesson{'s' * (gone != 1)} of {coach} cancelled for the weather.")
    return redirect(f"{reverse('lessons:diary')}?coach={coach.code}")


@require_http_methods(["GET", "POST"])
def hours(request: HttpRequest) -> HttpResponse:
    """Show and store when one can be booked."""
    require_roster(coach=request.user)
    coach = access.diary_coach_for(viewer=request.user, code=request.GET.get("coach", "") or str(request.user.code))
    form = HoursForm(request.POST or None)
    if "out" in request.POST:
        service.drop_hours(by=request.user, coach=coach, code=request.POST["out"])
    elif request.method == "POST" and form.is_valid():
        service.add_hours(by=request.user, coach=coach, **form.cleaned_data)
    else:
        context = {
            "form": form, "coach": coach, "rows": coach.working_hours.all(), "coaches": coaches_of(request.user),
        }
        return render(request, "lessons/diary/hours.html", context, status=422 if form.errors else 200)
    return redirect(f"{reverse('lessons:diary_hours')}?coach={coach.code}")


@require_http_methods(["GET", "POST"])
def feed(request: HttpRequest) -> HttpResponse:
    """Show whether there is a calendar address; POST makes a new one, shown once, or ends it."""
    require_roster(coach=request.user)
    address = ""
    if "end" in request.POST:
        calendar_service.end_feed(coach=request.user)
        messages.success(request, "The calendar address does not work any more.")
        return redirect("lessons:diary_feed")
    if request.method == "POST":
        token = calendar_service.issue_feed(coach=request.user)
        address = request.build_absolute_uri(reverse("lessons:calendar", args=[token]))
    context = {"address": address, "feed": request.user.feeds.filter(revoked_at=None).first()}
    return render(request, "lessons/diary/feed.html", context)


@login_not_required
@require_GET
def calendar(request: HttpRequest, token: str) -> HttpResponse:
    """Hand the diary over to whoever has its private address."""
    found = calendar_service.feed_for(token=token)
    if found is None:
        raise Http404("There is no such calendar.")
    return calendar_file(bookings.feed_bytes(coach=found.coach, now=timezone.now()), "diary.ics")


def calendar_file(data: bytes, name: str) -> HttpResponse:
    """Answer with a calendar file."""
    response = HttpResponse(data, content_type=ics.KIND)
    response["Content-Disposition"] = f'attachment; filename="{name}"'
    return response
