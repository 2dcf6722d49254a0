"""Taking a file into a lesson: choose it, see how it is read, store it."""

import re
import uuid
from dataclasses import replace
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from lessons import access
from lessons.forms.imports import FileForm, ReadingForm
from lessons.imports.reader import MAX_BYTES
from lessons.imports.suggest import as_mapping
from lessons.imports.types import ImportRefusal
from lessons.models import ImportBatch
from lessons.queries.imports import MOST_PROBLEMS, column_views, players_in, unknown_clubs
from lessons.services import imports as service
from lessons.services.import_choices import Choices
from lessons.services.import_readings import table_of
from lessons.services.import_sources import proposal_of

_ROW = re.compile("row_([0-9]{1,9})")


@require_http_methods(["GET", "POST"])
def choose(request: HttpRequest, code: Any) -> HttpResponse:
    """Choose a file or paste rows. What cannot be read comes back with a sentence; nothing is stored."""
    lesson = access.lesson_for(coach=request.user, code=code)
    form = FileForm(request.POST or None, request.FILES or None)
    if request.method == "POST" and form.is_valid():
        data, name = form.content()
        wanted = _code(request.POST.get("block"))
        block = lesson.blocks.filter(code=wanted, removed_at__isnull=True).first() if wanted else None
        try:
            batch = service.look_at(
                by=request.user, lesson=lesson, data=data, filename=name, block=block,
                sheet=form.cleaned_data["sheet"], encoding=form.cleaned_data["encoding"],
            )
            return redirect("lessons:import_look", code=batch.code)
        except ImportRefusal as refusal:
            form.add_error(None, str(refusal))
    context = {"lesson": lesson, "student": lesson.student, "form": form, "block": request.GET.get("block", ""),
               "most_bytes": MAX_BYTES}
    return render(request, "lessons/import_choose.html", context, status=422 if form.errors else 200)


@require_http_methods(["GET", "POST"])
def look(request: HttpRequest, code: Any) -> HttpResponse:
    """Show how the file is read, and what storing it would do; POST keeps other decisions."""
    batch = access.batch_for(coach=request.user, code=code)
    form = None
    if request.method == "POST":
        form = _form(batch, request.POST)
        if form.is_valid():
            return _decided(request, batch, form.decided())
    context = _context(request, batch, form)
    return render(request, "lessons/import_look.html", context, status=422 if form else 200)


@require_POST
def store(request: HttpRequest, code: Any) -> HttpResponse:
    """Store the file's balls once; a second click finds them stored."""
    batch = access.batch_for(coach=request.user, code=code)
    try:
        outcome = service.store(by=request.user, batch=batch)
    except ImportRefusal as refusal:
        messages.error(request, str(refusal))
        return redirect("lessons:import_look", code=batch.code)
    if outcome is not None:
        messages.success(request, f"{outcome.new} ball{'' if outcome.new == 1 else 's'} stored. {outcome.overlap}.")
    return redirect("lessons:lesson", code=batch.lesson.code)


@require_POST
def correct(request: HttpRequest, code: Any) -> HttpResponse:
    """Take a person's own text for a row that could not be read."""
    batch = access.batch_for(coach=request.user, code=code)
    choices = service.choices_of(batch)
    typed = {
        found[1]: text.replace("\0", "") for name, text in request.POST.items() if (found := _ROW.fullmatch(name))
    }
    return _decided(request, batch, replace(choices, corrections={**choices.corrections, **typed}))


def _decided(request: HttpRequest, batch: ImportBatch, choices: Choices) -> HttpResponse:
    try:
        service.decide(batch=batch, choices=choices)
    except ImportRefusal as refusal:
        messages.error(request, str(refusal))
    return redirect("lessons:import_look", code=batch.code)


def _form(batch: ImportBatch, data: Any = None) -> ReadingForm:
    choices = service.choices_of(batch)
    table = table_of(batch)
    proposal = proposal_of(table, choices)
    shown = replace(choices, columns=choices.columns or dict(as_mapping(proposal.columns)))
    return ReadingForm(
        data, table=table, choices=shown, players=players_in(table, proposal),
        clubs=unknown_clubs(table, proposal, choices.club_names),
    )


def _context(request: HttpRequest, batch: ImportBatch, form: ReadingForm | None) -> dict:
    table, choices = table_of(batch), service.choices_of(batch)
    proposal = proposal_of(table, choices)
    form = form or _form(batch)
    outcome, refusal = None, ""
    if batch.stored_at is None:
        try:
            outcome = service.preview(batch=batch, table=table)
        except ImportRefusal as error:
            refusal = str(error)
    views = column_views(
        table=table, proposal=proposal, hand=batch.lesson.student.hand, file_sign=choices.file_sign
    )
    return {
        "batch": batch, "lesson": batch.lesson, "student": batch.lesson.student, "form": form, "table": table,
        "columns": list(zip(form.columns(), views, strict=True)), "proposal": proposal, "outcome": outcome,
        "refusal": refusal, "problems": _problems(outcome, table)[:MOST_PROBLEMS], "choices": choices,
        "questions": [*proposal.questions, *(outcome.parsed.questions if outcome else ())],
    }


def _problems(outcome: service.Outcome | None, table: Any) -> list[dict]:
    if outcome is None:
        return [{"problem": problem, "text": problem.text} for problem in table.problems]
    broken = outcome.parsed.broken
    return [{"problem": one, "text": broken.get(one.row, one.text)} for one in outcome.parsed.problems]


def _code(text: str | None) -> Any:
    """Return a code that can be looked up, or None for what is no code."""
    try:
        return uuid.UUID(text) if text else None
    except ValueError:
        return None
