"""The plan of one lesson: proposed, edited by hand, kept, and compared with what was done."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.cache import patch_vary_headers
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from lessons import access
from lessons.forms.plans import LENGTHS, MOODS, HourForm, read_items
from lessons.models import Lesson, Plan
from lessons.queries.plans.hour import done_of, last_reflection, propose_hour, strip_of
from lessons.queries.plans.stored import lesson_plan, versions_of
from lessons.services.plans import keep_plan, tick_part
from metrics.plans.lesson import nudge_after


@require_http_methods(["GET", "POST"])
def lesson_hour(request: HttpRequest, code: Any) -> HttpResponse:
    """Show the plan of a lesson, or a proposal where there is none; a POST keeps it as edited."""
    lesson = access.taught_lesson_for(coach=request.user, code=code)
    stored = lesson_plan(lesson)
    if request.method == "POST":
        return _keep(request, lesson, stored)
    fresh = stored is None or "fresh" in request.GET
    body = _proposed(request, lesson) if fresh else stored.body
    return _draw(request, lesson, stored, body, proposed=fresh)


@require_POST
def part_done(request: HttpRequest, code: Any) -> HttpResponse:
    """Tick a part of the plan off at the range, or take the tick back; a part that is gone changes nothing."""
    lesson = access.taught_lesson_for(coach=request.user, code=code)
    plan, key = lesson_plan(lesson), request.POST.get("part", "")
    if plan is not None and key in {item["key"] for item in plan.body["items"]}:
        tick_part(by=request.user, plan=plan, key=key, done=request.POST.get("done") != "no")
    return _strip(request, lesson, is_open="list" in request.POST)


@require_GET
def strip(request: HttpRequest, code: Any) -> HttpResponse:
    """Show the plan's line as it stands now."""
    return _strip(request, access.taught_lesson_for(coach=request.user, code=code), is_open=False)


def _strip(request: HttpRequest, lesson: Lesson, *, is_open: bool) -> HttpResponse:
    if not request.htmx:
        return redirect("lessons:lesson", code=lesson.code)
    context = {"lesson": lesson, "strip": strip_of(lesson), "strip_open": is_open}
    response = render(request, "lessons/plans/_strip.html", context)
    patch_vary_headers(response, ["HX-Request"])
    return response


def _keep(request: HttpRequest, lesson: Lesson, stored: Plan | None) -> HttpResponse:
    base = _proposed(request, lesson) if stored is None or "fresh" in request.POST else stored.body
    items, problems = read_items(request.POST, known={item["key"]: item for item in base["items"]})
    form = HourForm(request.POST)
    total = sum(item["minutes"] for item in items)
    if form.is_valid() and total > form.cleaned_data["minutes"]:
        problems.append(f"The parts add up to {total} minutes; {form.cleaned_data['minutes']} were promised.")
    body = {**base, "items": items or base["items"]}
    if problems or not form.is_valid() or "move" in request.POST:
        status = 422 if problems or not form.is_valid() else 200
        return _draw(request, lesson, stored, body, form=form, problems=problems, proposed=stored is None,
                     status=status)
    body |= {"minutes": form.cleaned_data["minutes"], "goal": form.cleaned_data["goal"],
             "nudge_at": nudge_after(parts=[(item["key"], item["minutes"]) for item in items])}
    keep_plan(by=request.user, student=lesson.student, kind=Plan.Kind.LESSON, title="Plan of the lesson", body=body,
              starts_on=timezone.localdate(lesson.starts_at), lesson=lesson, replaces=stored,
              reason=form.cleaned_data["reason"] or base["branch"]["reason"])
    return redirect("lessons:lesson_hour", code=lesson.code)


def _proposed(request: HttpRequest, lesson: Lesson) -> dict[str, Any]:
    asked = request.POST.get("minutes") or request.GET.get("minutes") or ""
    mood = request.POST.get("mood") or request.GET.get("mood") or ""
    return propose_hour(
        lesson=lesson, minutes=int(asked) if asked.isdecimal() and len(asked) < 4 else None, mood=mood,
        now=timezone.now(), system=request.user.units or request.academy.units)


def _draw(request: HttpRequest, lesson: Lesson, stored: Plan | None, body: dict[str, Any], *, proposed: bool,
          form: HourForm | None = None, problems: list[str] | None = None, status: int = 200) -> HttpResponse:
    begun = lesson.status in (Lesson.Status.RUNNING, Lesson.Status.FINISHED)
    context = {
        "lesson": lesson, "student": lesson.student, "plan": stored, "body": body, "proposed": proposed,
        "form": form or HourForm(initial={"minutes": body["minutes"], "goal": body["goal"]}),
        "moods": MOODS, "lengths": LENGTHS, "mood": request.GET.get("mood", ""),
        "problems": problems or [], "total": sum(item["minutes"] for item in body["items"]),
        "versions": versions_of(stored) if stored else [],
        "reflection": last_reflection(lesson),
        "done": done_of(lesson=lesson, plan=stored) if stored and begun else [],
    }
    return render(request, "lessons/plans/hour.html", context, status=status)
