"""The page of a student's rounds: typed cards, the mirror of the index, and how the last ten went."""

from typing import Any

from django.contrib import messages
from django.forms import Form
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from academy import access
from academy.journal import CannotUndo
from academy.models import Student
from lessons.forms.rounds import OfficialIndexForm, RoundForm, TeesForm
from lessons.queries.course_strokes import course_strokes
from lessons.queries.rounds import rounds_page
from lessons.services import rounds as service


@require_GET
def rounds(request: HttpRequest, code: Any) -> HttpResponse:
    """Show the rounds, the mirror of the index and the form of the last ten."""
    return _draw(request, access.owned_student_for(coach=request.user, code=code))


@require_POST
def round_add(request: HttpRequest, code: Any) -> HttpResponse:
    """Store a round."""
    student = access.owned_student_for(coach=request.user, code=code)
    form = RoundForm(request.POST)
    if not form.is_valid():
        return _draw(request, student, status=422, round_form=form)
    service.add_round(by=request.user, student=student, **form.cleaned_data)
    return redirect("lessons:rounds", code=student.code)


@require_POST
def round_out(request: HttpRequest, code: Any, round_code: Any) -> HttpResponse:
    """Take a round out of view, or bring it back."""
    student = access.owned_student_for(coach=request.user, code=code)
    played = access.belonging(rows=student.rounds.select_related("student"), code=round_code)
    if "back" in request.POST:
        service.put_round_back(by=request.user, played=played)
    elif played.removed_at is None:
        service.remove_round(by=request.user, played=played)
        return _draw(request, student, taken_out=played)
    return redirect("lessons:rounds", code=student.code)


@require_POST
def official_index(request: HttpRequest, code: Any) -> HttpResponse:
    """Store the official index, or take its newest change back."""
    student = access.owned_student_for(coach=request.user, code=code)
    if "back" in request.POST:
        return _index_back(request, student)
    form = OfficialIndexForm(request.POST)
    if not form.is_valid():
        return _draw(request, student, status=422, index_form=form)
    service.set_official_index(by=request.user, student=student, **form.cleaned_data)
    messages.success(request, "Official index stored; it is the one that counts.")
    return redirect("lessons:rounds", code=student.code)


def _index_back(request: HttpRequest, student: Student) -> HttpResponse:
    try:
        if service.put_index_back(by=request.user, student=student):
            messages.success(request, "The index from before is back.")
    except CannotUndo as reason:
        messages.error(request, f"Not taken back. {reason}")
    return redirect("lessons:rounds", code=student.code)


def _tees(request: HttpRequest, counts_as: float | None, known: dict[str, Any]) -> dict[str, Any]:
    """Return the form of the tees, and the strokes of the index on them where they were asked for."""
    form = TeesForm(request.GET if "par" in request.GET else None, initial={"par": 72, **known})
    asked = counts_as is not None and form.is_bound and form.is_valid()
    return {"counts_as": counts_as, "tees_form": form,
            "strokes": course_strokes(index=counts_as, **form.cleaned_data) if asked else None}


def _draw(request: HttpRequest, student: Student, *, status: int = 200, **extra: Form | Any) -> HttpResponse:
    page, round_form = rounds_page(student=student), _next_round(student)
    counts_as = page["official"] if page["official"] is not None else page["mirror"].index
    context = {
        "student": student, **page, "round_form": round_form,
        "index_change": service.index_change(student=student), **_tees(request, counts_as, round_form.initial),
        "index_form": OfficialIndexForm(initial={"handicap_index": student.handicap_index}), **extra,
    }
    return render(request, "lessons/rounds.html", context, status=status)


def _next_round(student: Student) -> RoundForm:
    """Return a form that knows the course of the last round: most people play the same one again."""
    last = student.rounds.filter(removed_at__isnull=True, holes=18).last()
    known = {"played_on": timezone.localdate(), "pcc": 0, "holes": 18}
    if last is not None:
        known |= {"course": last.course, "course_rating": last.course_rating, "slope": last.slope}
    return RoundForm(initial=known)
