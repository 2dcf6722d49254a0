"""Guardians and consents: for the coach and the welfare lead, and for the guardian on the private page."""

from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_not_required
from django.core.exceptions import ValidationError
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from academy import access, concerns, consents, guardians
from academy.care_forms import ConsentForm, GuardianForm, ItemForm
from academy.models import Student


@require_http_methods(["GET", "POST"])
def page(request: HttpRequest, code: Any) -> HttpResponse:
    """Show a student's guardians and consents; POST adds a guardian."""
    student = access.cared_student_for(coach=request.user, code=code)
    form = GuardianForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        guardians.add_guardian(by=request.user, student=student, **form.cleaned_data)
        return redirect("academy:guardians", code=student.code)
    return _draw(request, student, form=form, status=422 if form.errors else 200)


def _draw(request: HttpRequest, student: Student, *, status: int = 200, **forms: Any) -> HttpResponse:
    today = timezone.localdate()
    context = {
        "student": student, "ties": student.guardianship_set.select_related("guardian"),
        "table": consents.consent_table(student=student, day=today), "history": student.consents.all(),
        "form": GuardianForm(), "consent_form": ConsentForm(student=student),
        "junior": student.is_junior(adult_age=request.academy.adult_age),
        "teaches": student.coach_id == request.user.pk,
        **forms,
    }
    return render(request, "academy/guardians.html", context, status=status)


@require_POST
def end(request: HttpRequest, code: Any, guardian_code: Any) -> HttpResponse:
    """End a guardianship: links stop, consents are withdrawn."""
    student = access.cared_student_for(coach=request.user, code=code)
    guardian = access.belonging(rows=student.guardians.all(), code=guardian_code)
    guardians.end_guardianship(by=request.user, student=student, guardian=guardian)
    messages.success(request, f"{guardian.name} is no longer noted. Their links have ended, their consents too.")
    return redirect("academy:guardians", code=student.code)


@require_POST
def give(request: HttpRequest, code: Any) -> HttpResponse:
    """Store a consent for twelve months."""
    student = access.cared_student_for(coach=request.user, code=code)
    form = ConsentForm(request.POST, student=student)
    if form.is_valid():
        try:
            consents.give_consent(by=request.user, student=student, **form.cleaned_data)
            return redirect("academy:guardians", code=student.code)
        except ValidationError as error:
            form.add_error(None, error)
    return _draw(request, student, status=422, consent_form=form)


@require_POST
def withdraw(request: HttpRequest, code: Any) -> HttpResponse:
    """End a consent today."""
    student = access.cared_student_for(coach=request.user, code=code)
    form = ItemForm(request.POST)
    if form.is_valid():
        item, today = form.cleaned_data["item"], timezone.localdate()
        consents.withdraw_consent(by=request.user, student=student, item=item, day=today)
    else:
        messages.error(request, "There is no such consent to withdraw.")
    return redirect("academy:guardians", code=student.code)


@login_not_required
@require_http_methods(["GET", "POST"])
def mine(request: HttpRequest) -> HttpResponse:
    """Let a guardian read, give and withdraw consents on the private page."""
    try:
        link = access.link_for(request=request)
    except Http404:
        return render(request, "academy/share_gone.html", status=404)
    if request.method == "POST" and link.guardian is not None:
        form = ItemForm(request.POST)
        if form.is_valid():
            _change_mine(request, link, form.cleaned_data["item"])
        return redirect("academy:my_consents")
    table = consents.consent_table(student=link.student, day=timezone.localdate())
    context = {"name": link.student.first_name, "table": table, "guardian": link.guardian}
    return render(request, "academy/consents_mine.html", context)


def _change_mine(request: HttpRequest, link, item: str) -> None:
    today = timezone.localdate()
    if request.POST.get("give"):
        consents.give_consent(
            by=None, student=link.student, item=item, given_on=today, guardian=link.guardian, source="student"
        )
        messages.success(request, "Given for twelve months. You can withdraw it here at any time.")
    else:
        consents.withdraw_consent(by=None, student=link.student, item=item, day=today)
        messages.success(request, "Withdrawn. What it allowed is off from now on.")


@require_GET
def welfare(request: HttpRequest) -> HttpResponse:
    """List concerns, and juniors with guardians and consents, for the welfare lead. No coaching, no health."""
    access.require_welfare_lead(coach=request.user)
    context = {"lines": guardians.juniors(day=timezone.localdate()), "concerns": concerns.open_concerns()}
    return render(request, "academy/consents_welfare.html", context)
