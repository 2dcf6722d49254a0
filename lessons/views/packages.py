"""Packages: the academy's balances, one student's ledger, the bookkeeper's table."""

import uuid
from collections.abc import Callable
from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.forms import Form
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from academy.access import require_roster, student_for
from academy.models import Student
from lessons import access
from lessons.forms.packages import LastDayForm, MoveForm, PeriodForm, RefundForm, SellForm
from lessons.queries import package_pages as queries
from lessons.services import packages as service


@require_GET
def packages(request: HttpRequest) -> HttpResponse:
    """Show what is left, owed and running out. One query for the list."""
    require_roster(coach=request.user)
    page = queries.page(coach=request.user, day=timezone.localdate(), asked=request.GET)
    return render(request, "lessons/packages/index.html", {**page, "period": PeriodForm()})


@require_GET
def ledger(request: HttpRequest) -> HttpResponse:
    """Hand the ledger of a period over as CSV."""
    require_roster(coach=request.user)
    form = PeriodForm(request.GET)
    if not form.is_valid():
        page = queries.page(coach=request.user, day=timezone.localdate(), asked={})
        return render(request, "lessons/packages/index.html", {**page, "period": form}, status=422)
    data = queries.ledger_csv(coach=request.user, **form.cleaned_data)
    response = HttpResponse(data, content_type="text/csv; charset=utf-8")
    response["Content-Disposition"] = f'attachment; filename="packages-{timezone.localdate()}.csv"'
    return response


@require_POST
def write_off(request: HttpRequest) -> HttpResponse:
    """Enter everything past its last day as expired."""
    require_roster(coach=request.user)
    day = timezone.localdate()
    gone = service.write_off_expired(
        by=request.user, packages=queries.expired_of(coach=request.user, day=day), day=day
    )
    messages.success(request, f"{gone} lessons are entered as expired; each line can be taken back.")
    return redirect("lessons:packages")


@require_http_methods(["GET", "POST"])
def of_student(request: HttpRequest, code: Any) -> HttpResponse:
    """Show one student's ledger; POST sells a package."""
    student = student_for(coach=request.user, code=code)
    form = SellForm(request.POST or None, initial={"key": uuid.uuid4()})
    if request.method == "POST" and form.is_valid():
        try:
            sold = service.sell_package(by=request.user, student=student, **form.values())
            messages.success(request, f"{sold.name}: {sold.lessons} lessons are on the account.")
            return redirect("lessons:student_packages", code=student.code)
        except ValidationError as error:
            form.add_error(None, error)
    return _student(request, student, form, status=422 if form.errors else 200)


@require_http_methods(["GET", "POST"])
def step(request: HttpRequest, code: Any, what: str) -> HttpResponse:
    """Refund, hand on, or set another last day: the form, then the entry."""
    package = access.package_for(coach=request.user, code=code)
    if what not in STEPS:
        raise Http404("There is no such step.")
    title, button, make, do = STEPS[what]
    form = make(request, package)
    if request.method == "POST" and form.is_valid():
        try:
            do(by=request.user, package=package, **form.values())
            return redirect("lessons:student_packages", code=package.student.code)
        except ValidationError as error:
            form.add_error(None, error)
    context = {"package": package, "student": package.student, "form": form, "title": title, "button": button,
               "left": package.balance()}
    return render(request, "lessons/packages/step.html", context, status=422 if form.errors else 200)


@require_POST
def line_back(request: HttpRequest, code: Any) -> HttpResponse:
    """Answer a line of the ledger with its opposite."""
    line = access.package_line_for(coach=request.user, code=code)
    try:
        service.take_line_back(by=request.user, line=line)
        messages.success(request, f"Taken back: {line}.")
    except ValidationError as error:
        messages.error(request, f"Not taken back. {' '.join(error.messages)}")
    return redirect("lessons:student_packages", code=line.package.student.code)


def _student(request: HttpRequest, student: Student, form: SellForm, *, status: int) -> HttpResponse:
    page = queries.student_page(student=student, day=timezone.localdate())
    return render(request, "lessons/packages/student.html", {**page, "form": form}, status=status)


def _move_form(request: HttpRequest, package: Any) -> MoveForm:
    others = Student.objects.visible_to(request.user).here().exclude(pk=package.student_id)
    return MoveForm(request.POST or None, students=others)


def _last_day_form(request: HttpRequest, package: Any) -> LastDayForm:
    # An empty form is an answer here: it means that there is no last day.
    data = request.POST if request.method == "POST" else None
    return LastDayForm(data, initial={"expires_on": package.expires_on})


STEPS: dict[str, tuple[str, str, Callable[[HttpRequest, Any], Form], Callable[..., Any]]] = {
    "refund": ("Refund lessons", "Enter the refund", lambda request, _: RefundForm(request.POST or None),
               service.refund_package),
    "hand-on": ("Hand lessons on", "Hand them on", _move_form, service.move_package),
    "last-day": ("Another last day", "Store the day", _last_day_form, service.set_last_day),
}
"""Word in the address -> title, button, form, service."""
