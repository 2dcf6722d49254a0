"""Health entries of one student, for the assigned coach alone."""

from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from academy import access, health
from academy.care_forms import HealthForm, PainDayForm
from academy.pain_days import note_pain_day


@require_http_methods(["GET", "POST"])
def page(request: HttpRequest, code: Any) -> HttpResponse:
    """Show what the student has said about health, with what to do; POST adds an entry."""
    student = access.owned_student_for(coach=request.user, code=code)
    form = HealthForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        health.report_pain(student=student, by=request.user, **form.cleaned_data)
        return redirect("academy:health", code=student.code)
    flags = list(student.health_flags.all())
    context = {
        "student": student, "form": form, "open": [flag for flag in flags if flag.cleared_at is None],
        "cleared": [flag for flag in flags if flag.cleared_at is not None],
        "cards": health.advice_for(flags, academy=request.academy),
        "red_flags": health.RED_FLAGS, "not_medical": health.NOT_MEDICAL, "day_form": PainDayForm(),
        "days": student.pain_readings.all()[:7], "stopped": any(flag.stops_long_game for flag in flags),
    }
    return render(request, "academy/health.html", context, status=422 if form.errors else 200)


@require_POST
def clear(request: HttpRequest, code: Any, flag_code: Any) -> HttpResponse:
    """Note that a complaint is over."""
    student = access.owned_student_for(coach=request.user, code=code)
    flag = access.belonging(rows=student.health_flags.all(), code=flag_code)
    try:
        health.clear_flag(by=request.user, flag=flag, by_clinician=request.POST.get("by_clinician") == "yes")
    except ValidationError as error:
        messages.error(request, " ".join(error.messages))
    return redirect("academy:health", code=student.code)


@require_POST
def day(request: HttpRequest, code: Any) -> HttpResponse:
    """Note how strong it is today; two calm days running end a stop."""
    student = access.owned_student_for(coach=request.user, code=code)
    form = PainDayForm(request.POST)
    if not form.is_valid():
        messages.error(request, "The pain of a day is a whole number from 0 to 10.")
        return redirect("academy:health", code=student.code)
    severity = form.cleaned_data["severity"]
    over = note_pain_day(student=student, by=request.user, severity=severity, day=timezone.localdate())
    messages.success(request, "Two calm days running: full swings are open again." if over else "Noted for today.")
    return redirect("academy:health", code=student.code)
