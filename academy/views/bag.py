"""Goals, wanted flights and clubs of one student."""

from collections.abc import Callable
from typing import Any
from uuid import UUID

from django.forms import Form
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from academy import access, bag, people
from academy.bag_forms import ClubForm, IntentForm
from academy.goal_forms import GoalForm
from academy.models import Student


@require_GET
def page(request: HttpRequest, code: Any) -> HttpResponse:
    """Show what the student works toward and plays with."""
    return _draw(request, access.owned_student_for(coach=request.user, code=code))


def _draw(request: HttpRequest, student: Student, *, status: int = 200, **forms: Form) -> HttpResponse:
    context = {
        "student": student, "goals": student.goals.filter(ended_on__isnull=True),
        "intents": student.intents.order_by("category"), "clubs": student.clubs.filter(to_date__isnull=True),
        "goal_form": _goal_form(request, student), "intent_form": IntentForm(auto_id="intent_%s"),
        "club_form": ClubForm(auto_id="club_%s"), **forms,
    }
    return render(request, "academy/bag.html", context, status=status)


@require_POST
def intent_set(request: HttpRequest, code: Any) -> HttpResponse:
    """Store a wanted flight."""
    return _store(request, code, "intent_form", IntentForm, people.set_intent)


@require_POST
def goal_add(request: HttpRequest, code: Any) -> HttpResponse:
    """Store a goal."""
    student = access.owned_student_for(coach=request.user, code=code)
    form = _goal_form(request, student, request.POST)
    if not form.is_valid():
        return _draw(request, student, status=422, goal_form=form)
    bag.add_goal(by=request.user, student=student, **form.values)
    return redirect("academy:bag", code=student.code)


def _goal_form(request: HttpRequest, student: Student, data: Any = None) -> GoalForm:
    system = request.user.units or request.academy.units
    return GoalForm(data, student=student, system=system, auto_id="goal_%s")


@require_POST
def club_add(request: HttpRequest, code: Any) -> HttpResponse:
    """Store a club."""
    return _store(request, code, "club_form", ClubForm, bag.add_club)


def _store(
    request: HttpRequest, code: Any, name: str, make: type[Form], service: Callable[..., Any]
) -> HttpResponse:
    student = access.owned_student_for(coach=request.user, code=code)
    form = make(request.POST, auto_id=name.replace("form", "%s"))
    if not form.is_valid():
        return _draw(request, student, status=422, **{name: form})
    service(by=request.user, student=student, **form.cleaned_data)
    return redirect("academy:bag", code=student.code)


@require_POST
def goal_end(request: HttpRequest, code: Any) -> HttpResponse:
    """Close a goal."""
    student = access.owned_student_for(coach=request.user, code=code)
    goal = student.goals.filter(code=_code(request)).first()
    if goal is not None:
        bag.end_goal(by=request.user, goal=goal, day=timezone.localdate())
    return redirect("academy:bag", code=student.code)


@require_POST
def club_end(request: HttpRequest, code: Any) -> HttpResponse:
    """Take a club out of the bag."""
    student = access.owned_student_for(coach=request.user, code=code)
    club = student.clubs.filter(code=_code(request)).first()
    if club is not None:
        bag.end_club(by=request.user, club=club, day=timezone.localdate())
    return redirect("academy:bag", code=student.code)


def _code(request: HttpRequest) -> Any:
    """Return the code of the row that was named, a code of nothing where it is none."""
    try:
        return UUID(request.POST.get("which", ""))
    except ValueError:
        return UUID(int=0)
