"""A class as a clinic: stations, templates, one observation a person. No numbers of anybody are on this page."""

from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_GET, require_POST

from academy.access import require_roster
from lessons import access
from lessons.forms.clinics import TemplateForm, read_observations, read_stations
from lessons.models import GroupClass
from lessons.queries.clinics import clinic_page, template_stations
from lessons.services import clinics as service


@require_GET
def clinic(request: HttpRequest, code: Any) -> HttpResponse:
    """Show what is laid out for a class."""
    return _draw(request, access.class_for(coach=request.user, code=code))


@require_POST
def stations(request: HttpRequest, code: Any) -> HttpResponse:
    """Store the stations as typed, or those of a template."""
    group = access.class_for(coach=request.user, code=code)
    name = request.POST.get("template", "")
    if name:
        found = template_stations(name, minutes=group.minutes)
        if found is None:
            return _draw(request, group, problems=["There is no such template any more."], status=422)
        service.lay_out(by=request.user, group=group, stations=found[0], said="Laid out from a template")
        return redirect("lessons:clinic", code=group.code)
    typed, problems = read_stations(request.POST, minutes=group.minutes)
    if problems:
        return _draw(request, group, problems=problems, status=422, rows=typed)
    service.lay_out(by=request.user, group=group, stations=typed)
    return redirect("lessons:clinic", code=group.code)


@require_POST
def template_keep(request: HttpRequest, code: Any) -> HttpResponse:
    """Keep the stations of a class as the academy's own template."""
    group = access.class_for(coach=request.user, code=code)
    form = TemplateForm(request.POST)
    if not form.is_valid() or not group.stations:
        problems = [] if form.errors else ["Nothing is laid out yet, so there is nothing to keep."]
        return _draw(request, group, form=form, problems=problems, status=422)
    service.keep_template(by=request.user, title=form.cleaned_data["title"], stations=group.stations,
                          copied_from=f"class {group.name}")
    messages.success(request, f"Kept as “{form.cleaned_data['title']}”; every coach of the academy finds it here.")
    return redirect("lessons:clinic", code=group.code)


@require_POST
def template_out(request: HttpRequest, code: Any) -> HttpResponse:
    """Take a template of the academy out of the list, or bring it back."""
    require_roster(coach=request.user)
    template = access.template_for(code=code)
    if "back" in request.POST:
        service.put_template_back(by=request.user, template=template)
        messages.success(request, f"“{template.title}” is back.")
    elif template.removed_at is None:
        service.retire_template(by=request.user, template=template)
        messages.success(request, f"“{template.title}” is taken out; classes laid out from it stay.")
    return redirect("lessons:diary")


@require_POST
def observe(request: HttpRequest, code: Any) -> HttpResponse:
    """Store one observation a person; the class's own coach alone."""
    group = access.class_for(coach=request.user, code=code)
    if group.coach_id != request.user.pk:
        raise Http404("There is no such class.")
    changed = service.note_observations(by=request.user, group=group, said=read_observations(request.POST))
    messages.success(request, f"{changed} observation{'' if changed == 1 else 's'} stored; each student reads theirs.")
    return redirect("lessons:clinic", code=group.code)


def _draw(
    request: HttpRequest, group: GroupClass, *, status: int = 200, problems: list[str] | None = None,
    form: TemplateForm | None = None, rows: list[dict[str, Any]] | None = None,
) -> HttpResponse:
    page = clinic_page(group=group, reader=request.user)
    if rows is not None:
        page["rows"] = [*rows, *page["rows"][len(rows):]]
    context = {**page, "problems": problems or [], "form": form or TemplateForm()}
    return render(request, "lessons/diary/clinic.html", context, status=status)
