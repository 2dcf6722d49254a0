"""Plans of a student: where it stands, a proposal, a stored plan, its bends, and events."""

from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from academy import access
from academy.models import Student
from lessons.access import plan_for
from lessons.forms.plans import FORMS, MOODS, EventForm, MadeFromForm
from lessons.forms.practice_days import DaysForm, first_days
from lessons.models import Plan
from lessons.queries.plans.pages import bend_of, made_from, plan_page, plans_page
from lessons.queries.plans.proposals import NAMES, propose, title_of
from lessons.queries.plans.stored import as_body, series_of
from lessons.services import plans as service
from lessons.services.practice_days import choose_days
from metrics.plans.series import apply_bend


@require_GET
def plans(request: HttpRequest, code: Any) -> HttpResponse:
    """Show where it stands, the plans in use and the events."""
    return _overview(request, access.owned_student_for(coach=request.user, code=code), EventForm())


@require_http_methods(["GET", "POST"])
def plan_new(request: HttpRequest, code: Any, kind: str) -> HttpResponse:
    """Propose a plan from what is known and said; a POST keeps what is proposed."""
    student = access.owned_student_for(coach=request.user, code=code)
    if kind not in FORMS:
        raise Http404("There is no such plan.")
    asked = request.POST if request.method == "POST" else request.GET
    form = FORMS[kind](asked if "starts_on" in asked else None, initial=_initial(student))
    if not form.is_bound:
        return _proposal(request, student, kind, form, None)
    if not form.is_valid():
        return _proposal(request, student, kind, form, None, status=422)
    body = propose(student=student, kind=kind, form=form, now=timezone.now(), system=_system(request))
    if request.method == "GET":
        return _proposal(request, student, kind, form, body)
    kept = service.keep_plan(
        by=request.user, student=student, kind=kind, title=title_of(kind, body), body=body,
        starts_on=form.cleaned_data["starts_on"], reason=body["branch"]["reason"])
    return redirect("lessons:plan", code=kept.code)


@require_GET
def plan(request: HttpRequest, code: Any) -> HttpResponse:
    """Show a stored plan, with what the results propose."""
    return _stored(request, plan_for(coach=request.user, code=code))


@require_POST
def plan_days(request: HttpRequest, code: Any) -> HttpResponse:
    """Store the days on which the student practises, as they say them in the lesson."""
    found = plan_for(coach=request.user, code=code)
    form = DaysForm(request.POST)
    if not form.is_valid():
        return _stored(request, found, days_form=form, status=422)
    choose_days(student=found.student, by=request.user, **form.cleaned_data)
    return redirect("lessons:plan", code=found.code)


@require_POST
def plan_bend(request: HttpRequest, code: Any) -> HttpResponse:
    """Take what the results propose: the series gets its next version, with the reason."""
    found = plan_for(coach=request.user, code=code)
    bend = bend_of(found, now=timezone.now(), system=_system(request), mood=request.POST.get("mood", ""))
    if bend is None or not bend.changes:
        return redirect("lessons:plan", code=found.code)
    body = {**found.body, **as_body(apply_bend(series_of(found), bend=bend)), "branch": as_body(bend.branch)}
    kept = service.keep_plan(
        by=request.user, student=found.student, kind=found.kind, title=found.title, body=body,
        starts_on=found.starts_on, reason=bend.sentence, replaces=found)
    return redirect("lessons:plan", code=kept.code)


@require_POST
def plan_back(request: HttpRequest, code: Any) -> HttpResponse:
    """Take the newest version back; the one before it is in use again."""
    found = plan_for(coach=request.user, code=code)
    service.take_back_version(by=request.user, plan=found)
    return redirect("lessons:plans", code=found.student.code)


@require_POST
def plan_end(request: HttpRequest, code: Any) -> HttpResponse:
    """End a plan."""
    found = plan_for(coach=request.user, code=code)
    service.end_plan(by=request.user, plan=found, day=timezone.localdate())
    return redirect("lessons:plans", code=found.student.code)


@require_POST
def event_add(request: HttpRequest, code: Any) -> HttpResponse:
    """Store an event."""
    student = access.owned_student_for(coach=request.user, code=code)
    form = EventForm(request.POST)
    if not form.is_valid():
        return _overview(request, student, form, status=422)
    service.add_event(by=request.user, student=student, **form.cleaned_data)
    return redirect("lessons:plans", code=student.code)


@require_POST
def event_out(request: HttpRequest, code: Any, event_code: Any) -> HttpResponse:
    """Take an event out."""
    student = access.owned_student_for(coach=request.user, code=code)
    rows = student.events.filter(removed_at__isnull=True).select_related("student")
    service.remove_event(by=request.user, event=access.belonging(rows=rows, code=event_code))
    return redirect("lessons:plans", code=student.code)


def _initial(student: Student) -> dict[str, Any]:
    said = made_from(student)
    minutes = said["minutes_week"] if said["minutes_week"] is not None else student.practice_minutes_week
    return {"starts_on": timezone.localdate(), "visits": 6, "first_month": 4, "last_month": 9, **said,
            "minutes_week": minutes}


def _stored(request: HttpRequest, found: Plan, *, days_form: DaysForm | None = None, status: int = 200,
            ) -> HttpResponse:
    mood = request.GET.get("mood", "")
    page = plan_page(plan=found, now=timezone.now(), system=_system(request), mood=mood)
    page |= {"mood": mood, "moods": MOODS}
    if found.kind == Plan.Kind.PRACTICE and found.ended_on is None:
        page["days_form"] = days_form or DaysForm(initial=first_days(page["days"]))
    return render(request, "lessons/plans/plan.html", page, status=status)


def _overview(request: HttpRequest, student: Student, form: EventForm, *, status: int = 200) -> HttpResponse:
    page = plans_page(student=student, now=timezone.now(), system=_system(request))
    return render(request, "lessons/plans/list.html", {**page, "form": form, "names": NAMES}, status=status)


def _proposal(request: HttpRequest, student: Student, kind: str, form: MadeFromForm, body: dict[str, Any] | None,
              *, status: int = 200) -> HttpResponse:
    context = {"student": student, "kind": kind, "name": NAMES[kind], "form": form, "body": body}
    return render(request, "lessons/plans/new.html", context, status=status)


def _system(request: HttpRequest) -> Any:
    return request.user.units or request.academy.units
