"""Short game and putting: the list of runs, and a run typed ball by ball."""

from typing import Any

from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_GET, require_POST

from academy import access
from academy.htmx import render_page
from lessons.access import skill_test_for
from lessons.forms.skills import BallForm, BeginForm
from lessons.models import Lesson, SkillTest
from lessons.queries.skills.pages import run_page, short_game_page
from lessons.services import skills as service
from metrics.shortgame.designs import DESIGNS


@require_GET
def short_game(request: HttpRequest, code: Any) -> HttpResponse:
    """Show the tests there are and the runs of a student."""
    student = access.owned_student_for(coach=request.user, code=code)
    page = short_game_page(student=student, system=_system(request))
    return render(request, "lessons/skills/list.html", {**page, "form": BeginForm()})


@require_POST
def skill_begin(request: HttpRequest, code: Any) -> HttpResponse:
    """Begin a run; while a lesson with this student runs, it belongs to that lesson."""
    student = access.owned_student_for(coach=request.user, code=code)
    form = BeginForm(request.POST)
    if not form.is_valid():
        page = short_game_page(student=student, system=_system(request))
        return render(request, "lessons/skills/list.html", {**page, "form": form}, status=422)
    running = student.lessons.filter(status=Lesson.Status.RUNNING).first()
    test = service.begin_test(by=request.user, student=student, lesson=running, **form.cleaned_data)
    return redirect("lessons:skill_test", code=test.code)


@require_GET
def skill_test(request: HttpRequest, code: Any) -> HttpResponse:
    """Show a run with its next target."""
    return _draw(request, skill_test_for(coach=request.user, code=code))


@require_POST
def skill_ball(request: HttpRequest, code: Any) -> HttpResponse:
    """Store the next ball."""
    test = skill_test_for(coach=request.user, code=code)
    form = BallForm(request.POST, design=DESIGNS[test.design], system=_system(request))
    if not form.is_valid():
        return _draw(request, test, form=form, status=422)
    asked = {"key": form.cleaned_data["key"], "number": form.cleaned_data["number"]}
    try:
        service.add_ball(by=request.user, test=test, **asked, **form.result())
    except ValidationError as error:
        form.add_error(None, error)
        return _draw(request, test, form=form, status=422)
    return _answer(request, test)


@require_POST
def skill_undo(request: HttpRequest, code: Any) -> HttpResponse:
    """Take the newest ball back."""
    test = skill_test_for(coach=request.user, code=code)
    service.undo_ball(by=request.user, test=test)
    return _answer(request, test)


@require_POST
def skill_out(request: HttpRequest, code: Any) -> HttpResponse:
    """Take a run out of view, or bring it back."""
    test = skill_test_for(coach=request.user, code=code)
    if "back" in request.POST:
        service.put_test_back(by=request.user, test=test)
        return redirect("lessons:skill_test", code=test.code)
    service.remove_test(by=request.user, test=test)
    page = short_game_page(student=test.student, system=_system(request))
    return render(request, "lessons/skills/list.html", {**page, "form": BeginForm(), "taken_out": test})


def _answer(request: HttpRequest, test: SkillTest) -> HttpResponse:
    return _draw(request, test) if request.htmx else redirect("lessons:skill_test", code=test.code)


def _draw(request: HttpRequest, test: SkillTest, *, form: BallForm | None = None, status: int = 200) -> HttpResponse:
    system = _system(request)
    form = form or BallForm(design=DESIGNS[test.design], system=system)
    context = {**run_page(test=test, system=system), "form": form}
    return render_page(
        request, page="lessons/skills/run.html", fragment="lessons/skills/_run.html", context=context, status=status)


def _system(request: HttpRequest) -> Any:
    return request.user.units or request.academy.units
