"""The test battery: the list, the guided form over one visit or two, and the report beside an earlier one."""

from typing import Any

from django.core.exceptions import ValidationError
from django.forms import Form
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from academy import access
from lessons.access import battery_for
from lessons.forms.battery import AskForm, BodyForm, LookForm
from lessons.models import Battery, Block
from lessons.queries.batteries.page import batteries_page, battery_page
from lessons.queries.batteries.report import earlier_of, report_of
from lessons.services import batteries as service
from metrics.plans.battery import MEASURES

FORMS: dict[str, type[Form]] = {"ask": AskForm, "body": BodyForm, "look": LookForm}


@require_GET
def batteries(request: HttpRequest, code: Any) -> HttpResponse:
    """Show a student's batteries and when the next is due."""
    student = access.owned_student_for(coach=request.user, code=code)
    return render(request, "lessons/battery/list.html", batteries_page(student=student, today=timezone.localdate()))


@require_POST
def battery_begin(request: HttpRequest, code: Any) -> HttpResponse:
    """Begin a battery, or go on with the one that is open."""
    student = access.owned_student_for(coach=request.user, code=code)
    made = service.begin_battery(by=request.user, student=student, day=timezone.localdate())
    return redirect("lessons:battery", code=made.code)


@require_GET
def battery(request: HttpRequest, code: Any) -> HttpResponse:
    """Show the guided form."""
    return _draw(request, battery_for(coach=request.user, code=code), opened=request.GET.get("part", ""))


@require_POST
def battery_part(request: HttpRequest, code: Any, part: str) -> HttpResponse:
    """Store one part of the guided form; the page goes on with the next."""
    found = battery_for(coach=request.user, code=code)
    if part not in FORMS:
        raise Http404("There is no such part.")
    form = FORMS[part](request.POST, battery=found)
    if not form.is_valid():
        return _draw(request, found, opened=part, status=422, forms={part: form})
    if part == "ask":
        service.keep_asked(by=request.user, battery=found, asked=form.answers)
    elif part == "body":
        service.keep_body(by=request.user, battery=found, answers=form.answers, pain=form.pain)
    else:
        service.keep_looks(by=request.user, battery=found, looked=form.looks, pain=form.pain)
    return redirect("lessons:battery", code=found.code)


@require_POST
def battery_measure(request: HttpRequest, code: Any, measure: str) -> HttpResponse:
    """Open the balls of a measure: a block on the lesson desk, or a short test."""
    found = battery_for(coach=request.user, code=code)
    wanted = next((one for one in MEASURES if one.key == measure), None)
    if wanted is None:
        raise Http404("There is no such measure.")
    try:
        opened = service.begin_measure(by=request.user, battery=found, measure=wanted)
    except ValidationError as error:
        return _draw(request, found, opened="measure", status=422, refused=" ".join(error.messages))
    if isinstance(opened, Block):
        return redirect(f"{reverse('lessons:lesson', args=[opened.lesson.code])}?block={opened.code}#balls")
    return redirect("lessons:skill_test", code=opened.code)


@require_POST
def battery_finish(request: HttpRequest, code: Any) -> HttpResponse:
    """Finish a battery, or open it again."""
    found = battery_for(coach=request.user, code=code)
    again = "again" in request.POST
    service.finish_battery(by=request.user, battery=found, day=None if again else timezone.localdate())
    return redirect("lessons:battery" if again else "lessons:battery_report", code=found.code)


@require_POST
def battery_out(request: HttpRequest, code: Any) -> HttpResponse:
    """Take a battery out of view, or bring it back."""
    found = battery_for(coach=request.user, code=code)
    if "back" in request.POST:
        service.put_battery_back(by=request.user, battery=found)
    elif found.removed_at is None:
        service.remove_battery(by=request.user, battery=found)
        page = batteries_page(student=found.student, today=timezone.localdate())
        return render(request, "lessons/battery/list.html", {**page, "taken_out": found})
    return redirect("lessons:batteries", code=found.student.code)


@require_GET
def battery_report(request: HttpRequest, code: Any) -> HttpResponse:
    """Show a battery beside an earlier one, the last before it where none is named."""
    found = battery_for(coach=request.user, code=code)
    earlier = earlier_of(found)
    named = request.GET.get("against", "")
    against = next((one for one in earlier if str(one.code) == named), earlier[0] if earlier else None)
    page = report_of(battery=found, against=against, earlier=earlier,
                     system=request.user.units or request.academy.units)
    return render(request, "lessons/battery/report.html", page)


def _draw(
    request: HttpRequest, found: Battery, *, opened: str = "", status: int = 200, refused: str = "",
    forms: dict[str, Form] | None = None,
) -> HttpResponse:
    page = battery_page(battery=found, house=request.academy, opened=opened)
    drawn = {key: make(battery=found, auto_id=f"{key}_%s") for key, make in FORMS.items()} | (forms or {})
    return render(request, "lessons/battery/battery.html", {**page, "forms": drawn, "refused": refused}, status=status)
