"""The coach's page of one student."""

from typing import Any

from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from academy import access
from academy.link_forms import LinkForm
from lessons.forms.practice import AnswerForm
from lessons.queries import student as queries
from lessons.services.messages import answer_message


@require_GET
def student(request: HttpRequest, code: Any) -> HttpResponse:
    """Show a student: whole to the own coach, reduced to an owner and to a colleague who do not teach them."""
    found = access.shown_student_for(coach=request.user, code=code)
    seen = {"student": found, "now": timezone.now(), "system": request.user.units or request.academy.units}
    if not access.may_read_coaching(coach=request.user, student=found):
        return render(request, "lessons/student_reduced.html", queries.owner_page(**seen))
    page = queries.coach_page(**seen)
    forms = {"link_form": LinkForm(student=found), "answer_form": AnswerForm()}
    return render(request, "lessons/student.html", {**page, **forms})


@require_POST
def answer(request: HttpRequest, code: Any, message_code: Any) -> HttpResponse:
    """Answer a message; the answer appears on the student's page."""
    found = access.owned_student_for(coach=request.user, code=code)
    message = access.belonging(rows=found.messages.all(), code=message_code)
    form = AnswerForm(request.POST)
    if form.is_valid():
        try:
            answer_message(by=request.user, message=message, answer=form.cleaned_data["answer"])
            return redirect("lessons:student", code=found.code)
        except ValidationError as error:
            form.add_error("answer", error)
    page = queries.coach_page(student=found, now=timezone.now(), system=request.user.units or request.academy.units)
    forms = {"link_form": LinkForm(student=found), "answer_form": form}
    return render(request, "lessons/student.html", {**page, **forms}, status=422)
