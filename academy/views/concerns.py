"""Concerns: written on a private page, read and closed by the welfare lead."""

import uuid
from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_not_required
from django.core.exceptions import ValidationError
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from academy import access, concerns
from academy.care_forms import ConcernForm, OutcomeForm
from academy.models import Concern


@login_not_required
@require_http_methods(["GET", "POST"])
def mine(request: HttpRequest) -> HttpResponse:
    """Say who reads a concern, and take one. What was written is shown nowhere on the private page."""
    try:
        link = access.link_for(request=request)
    except Http404:
        return render(request, "academy/share_gone.html", status=404)
    form = ConcernForm(request.POST or None, initial={"key": uuid.uuid4()})
    if request.method == "POST" and form.is_valid():
        writer = link.guardian.name if link.guardian else ""
        try:
            concerns.raise_concern(student=link.student, written_by=writer, **form.cleaned_data)
            messages.success(request, "The welfare lead has it. Nobody else reads it.")
            return redirect("lessons:me")
        except ValidationError as error:
            form.add_error(None, error)
    page = {"form": form, "readers": concerns.welfare_leads()}
    return render(request, "academy/concern_mine.html", page, status=422 if form.errors else 200)


@require_POST
def close(request: HttpRequest, code: Any) -> HttpResponse:
    """Note what was done about a concern."""
    access.require_welfare_lead(coach=request.user)
    concern = access.belonging(rows=Concern.objects.all(), code=code)
    form = OutcomeForm(request.POST)
    if form.is_valid():
        concerns.close_concern(by=request.user, concern=concern, outcome=form.cleaned_data["outcome"])
        messages.success(request, "Closed, with what was done.")
    else:
        messages.error(request, "Say in a few words what was done, and who was told.")
    return redirect("academy:welfare")
