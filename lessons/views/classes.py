"""Classes: opened, joined, registered, cancelled for everybody; and the waiting list."""

import uuid
from collections.abc import Callable
from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from academy.access import require_roster
from academy.journal import CannotUndo
from academy.models import Student
from lessons import access
from lessons.forms.diary import CancelForm, ClassForm, JoinForm, WaitingForm
from lessons.models import GroupClass
from lessons.queries import bookings
from lessons.queries.clashes import warnings
from lessons.queries.diary import coaches_of
from lessons.services import classes as service
from lessons.services import diary as diary_service


@require_http_methods(["GET", "POST"])
def new(request: HttpRequest) -> HttpResponse:
    """Open a class."""
    require_roster(coach=request.user)
    form = ClassForm(request.POST or None, coaches=coaches_of(request.user),
                     initial={"key": uuid.uuid4(), "coach": request.user.code})
    against: list[str] = []
    if request.method == "POST" and form.is_valid():
        against = warnings(slot=form.slot(student=None), viewer=request.user)
        if not against or form.cleaned_data["anyway"]:
            try:
                return redirect("lessons:class_page", code=service.open_class(by=request.user, **form.values()).code)
            except ValidationError as error:
                form.add_error(None, error)
        form.ask_anyway()
    context = {"form": form, "against": against}
    return render(request, "lessons/diary/class_new.html", context, status=422 if form.errors or against else 200)


@require_GET
def page(request: HttpRequest, code: Any) -> HttpResponse:
    """Show a class: its register, its places, its adults, who waits."""
    return _draw(request, access.class_for(coach=request.user, code=code))


@require_POST
def join(request: HttpRequest, code: Any) -> HttpResponse:
    """Register a student, or put them on the waiting list of the class."""
    group = access.class_for(coach=request.user, code=code)
    form = _join_form(request)
    if not form.is_valid():
        return _draw(request, group, join_form=form, status=422)
    student = form.cleaned_data["student"]
    if "wait" in request.POST:
        diary_service.wait_for(by=request.user, student=student, coach=group.coach, group=group)
        return redirect("lessons:class_page", code=group.code)
    return _step(request, group, service.join_class, student=student)


@require_POST
def register(request: HttpRequest, code: Any) -> HttpResponse:
    """Note who came."""
    group = access.class_for(coach=request.user, code=code)
    came = set(request.POST.getlist("came"))
    return _step(request, group, service.keep_register, present=came)


@require_POST
def cancel(request: HttpRequest, code: Any) -> HttpResponse:
    """Cancel a class for everybody."""
    group = access.class_for(coach=request.user, code=code)
    form = CancelForm(request.POST)
    if not form.is_valid():
        return _draw(request, group, cancel_form=form, status=422)
    return _step(request, group, service.cancel_class, **form.cleaned_data)


@require_POST
def undo(request: HttpRequest, code: Any) -> HttpResponse:
    """Take the last change of a class back, for everybody at once."""
    group = access.class_for(coach=request.user, code=code)
    try:
        change = diary_service.undo_booking(by=request.user, code=group.code)
        messages.success(request, f"Taken back: {change}." if change else "There is nothing left to take back.")
    except CannotUndo as reason:
        messages.error(request, f"Not taken back. {reason}")
    there = GroupClass.objects.filter(pk=group.pk).exists()
    return redirect("lessons:class_page", code=group.code) if there else redirect("lessons:diary")


@require_http_methods(["GET", "POST"])
def waiting(request: HttpRequest) -> HttpResponse:
    """Show who waits; POST adds somebody."""
    require_roster(coach=request.user)
    students = Student.objects.visible_to(request.user).here()
    form = WaitingForm(request.POST or None, students=students, coaches=coaches_of(request.user))
    if request.method == "POST" and form.is_valid():
        diary_service.wait_for(by=request.user, **form.cleaned_data)
        return redirect("lessons:waiting")
    context = {"form": form, "rows": bookings.waiting_for(viewer=request.user)}
    return render(request, "lessons/diary/waiting.html", context, status=422 if form.errors else 200)


@require_POST
def waiting_end(request: HttpRequest, code: Any) -> HttpResponse:
    """Take somebody off the waiting list."""
    row = access.waiting_for(coach=request.user, code=code)
    diary_service.stop_waiting(by=request.user, row=row)
    messages.success(request, f"{row.student.name} waits no more.")
    return redirect("lessons:waiting")


def _step(request: HttpRequest, group: GroupClass, step: Callable[..., Any], **values: Any) -> HttpResponse:
    try:
        step(by=request.user, group=group, **values)
    except ValidationError as error:
        messages.error(request, " ".join(error.messages))
    return redirect("lessons:class_page", code=group.code)


def _join_form(request: HttpRequest) -> JoinForm:
    return JoinForm(request.POST or None, students=Student.objects.shown_to(request.user).here())


def _draw(request: HttpRequest, group: GroupClass, *, status: int = 200, **forms: Any) -> HttpResponse:
    page = bookings.class_page(group=group, viewer=request.user)
    students = Student.objects.shown_to(request.user).here()
    fresh = {"join_form": JoinForm(students=students), "cancel_form": CancelForm()}
    return render(request, "lessons/diary/class.html", {**page, **fresh, **forms}, status=status)
