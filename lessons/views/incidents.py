"""Incidents: noted by anybody of the staff, looked after until they are closed; and the coaches' papers."""

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from academy.access import belonging
from academy.models import Student
from lessons import access
from lessons.forms.incidents import CheckForm, CloseForm, IncidentForm
from lessons.models import Incident
from lessons.queries import incidents as queries
from lessons.services import incidents as service


@require_http_methods(["GET", "POST"])
def incidents(request: HttpRequest) -> HttpResponse:
    """List incidents; POST notes one."""
    form = _form(request)
    if request.method == "POST" and form.is_valid():
        service.note_incident(by=request.user, incident=form.save(commit=False))
        messages.success(request, "Noted. It stays open until it is closed here.")
        return redirect("lessons:incidents")
    return _draw(request, form=form)


@require_POST
def close(request: HttpRequest, code: Any) -> HttpResponse:
    """Close an incident, or open it again."""
    found: Incident = belonging(rows=queries.incidents_for(request.user), code=code)
    if "again" in request.POST:
        service.reopen_incident(by=request.user, incident=found)
        return redirect("lessons:incidents")
    form = CloseForm(request.POST)
    if not form.is_valid():
        messages.error(request, "Say how it ended; then it can be closed.")
    else:
        service.close_incident(by=request.user, incident=found, **form.cleaned_data)
    return redirect("lessons:incidents")


@require_POST
def check(request: HttpRequest) -> HttpResponse:
    """Note a paper of somebody who teaches."""
    access.require_papers_keeper(coach=request.user)
    form = CheckForm(request.POST)
    if not form.is_valid():
        return _draw(request, check_form=form)
    service.note_check(by=request.user, **form.cleaned_data)
    return redirect("lessons:incidents")


def _form(request: HttpRequest) -> IncidentForm:
    students = Student.objects.visible_to(request.user).here()
    first = {"happened_on": timezone.localdate(), "keeper": request.user.code}
    return IncidentForm(request.POST or None, students=students, initial=first)


def _draw(request: HttpRequest, **forms: Any) -> HttpResponse:
    fresh = {"form": forms.get("form") or IncidentForm(students=Student.objects.visible_to(request.user).here()),
             "check_form": CheckForm(auto_id="check_%s"), "close_form": CloseForm(auto_id="close_%s")}
    status = 422 if any(form.errors for form in forms.values()) else 200
    context = {**queries.page(coach=request.user), **fresh, **forms}
    return render(request, "lessons/incidents.html", context, status=status)
