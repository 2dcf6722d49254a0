"""The practice plan on the private page: read, put on days, taken along as a calendar file."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from academy import health
from academy.models import ShareLink
from lessons.forms.practice_days import DaysForm, first_days
from lessons.ics import calendar_bytes
from lessons.queries.plans.practice import practice_today
from lessons.services.practice_days import calendar_events, choose_days

from .diary import calendar_file
from .holder import for_link_holder, writer


@for_link_holder
@require_GET
def plan(request: HttpRequest, link: ShareLink) -> HttpResponse:
    """Show the practice plan in use, the days, and the way into a calendar."""
    return _draw(request, link)


@for_link_holder
@require_POST
def days(request: HttpRequest, link: ShareLink) -> HttpResponse:
    """Store the days on which they practise."""
    form = DaysForm(request.POST)
    if not form.is_valid():
        return _draw(request, link, form=form, status=422)
    choose_days(student=link.student, **form.cleaned_data)
    messages.success(request, "Your days are stored. A calendar that has the old ones needs the new file.")
    return redirect("lessons:me_plan")


@for_link_holder
@require_GET
def calendar(request: HttpRequest, link: ShareLink) -> HttpResponse:
    """Hand the sittings over as a calendar file."""
    now = timezone.now()
    events = calendar_events(
        student=link.student, practice=practice_today(student=link.student, now=now), now=now)
    if not events:
        messages.error(request, "There is nothing to put in a calendar: choose your days first.")
        return redirect("lessons:me_plan")
    return calendar_file(calendar_bytes(events=events, name="Golf practice"), "practice.ics")


def _draw(request: HttpRequest, link: ShareLink, *, form: DaysForm | None = None, status: int = 200) -> HttpResponse:
    student, now = link.student, timezone.now()
    practice = practice_today(student=student, now=now)
    flags = health.open_flags(student=student)
    context = {
        "first_name": student.first_name, "guardian": writer(link), "practice": practice,
        "cards": health.advice_for(flags, academy=request.academy), "today": timezone.localdate(now),
        "form": form or DaysForm(initial=first_days(practice.days if practice else None)),
    }
    return render(request, "lessons/private/plan.html", context, status=status)
