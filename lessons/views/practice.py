"""Practice and messages from the private page."""

from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.forms import Form
from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from academy import health
from academy.models import ShareLink
from lessons.forms.practice import MessageForm, PainDayForm, PainForm, PracticeForm
from lessons.queries.private_page import practice_page
from lessons.services import messages as message_service
from lessons.services.pain_days import say_pain_today
from lessons.services.practice import Logged, log_practice

from .holder import for_link_holder, new_key, writer
from .private_page import render_home


@for_link_holder
@require_GET
def mode(request: HttpRequest, link: ShareLink, code: Any) -> HttpResponse:
    """Practise one drill; without JavaScript the page is the drill and the tick form."""
    page = practice_page(student=link.student, house=request.academy, code=code, now=timezone.now())
    if page is None:
        raise Http404("This drill is not one of yours, or it has ended.")
    form = PracticeForm(initial={**new_key(), "drill": code})
    context = {**page, "form": form, "red_flags": health.RED_FLAGS, "not_medical": health.NOT_MEDICAL}
    return render(request, "lessons/private/practice.html", context)


@for_link_holder
@require_POST
def tick(request: HttpRequest, link: ShareLink) -> HttpResponse:
    """Store a practice; the phone's queue gets JSON, a plain form the page."""
    form = PracticeForm(request.POST, auto_id="tick_%s")
    logged = None
    if form.is_valid():
        try:
            logged = log_practice(student=link.student, written_by=writer(link), **form.cleaned_data)
        except ValidationError as error:
            form.add_error(None, error)
    if request.accepts("text/html"):
        return _tick_page(request, link, form, logged)
    return _tick_json(request, form, logged)


def _tick_page(request: HttpRequest, link: ShareLink, form: PracticeForm, logged: Logged | None) -> HttpResponse:
    if logged is None:
        return render_home(request, link, status=422, tick_form=form)
    if logged.flag is None:
        messages.success(request, "Practice stored. Well done for writing it down.")
    else:
        messages.warning(request, "Practice stored, and your coach has been told about the pain.")
    return redirect("lessons:me")


def _tick_json(request: HttpRequest, form: PracticeForm, logged: Logged | None) -> JsonResponse:
    if logged is None:
        said = [text for texts in form.errors.values() for text in texts]
        return JsonResponse({"stored": False, "problems": said}, status=422)
    cards = health.advice_for([logged.flag], academy=request.academy) if logged.flag else []
    return JsonResponse({
        "stored": True, "new": logged.is_new, "stop": any(card.stop for card in cards),
        "cards": [{"title": card.title, "text": card.text, "stop": card.stop} for card in cards],
    })


@for_link_holder
@require_POST
def send(request: HttpRequest, link: ShareLink) -> HttpResponse:
    """Send a question or a score."""
    form = MessageForm(request.POST, auto_id="message_%s")
    if _stored(form, lambda values: message_service.send_message(
        student=link.student, written_by=writer(link), **values
    )):
        messages.success(request, "Sent to your coach.")
        return redirect("lessons:me")
    return render_home(request, link, status=422, message_form=form)


@for_link_holder
@require_POST
def pain(request: HttpRequest, link: ShareLink) -> HttpResponse:
    """Tell the coach about pain; the page then shows what to do."""
    form = PainForm(request.POST, auto_id="pain_%s")
    if not form.is_valid():
        return render_home(request, link, status=422, pain_form=form)
    values = form.cleaned_data
    message_service.tell_pain(
        student=link.student, written_by=writer(link), key=values["key"], severity=values["pain"],
        area=values["area"] or "other", is_new=values["is_new"], red_flag=values["red_flag"], text=values["text"],
    )
    messages.success(request, "Your coach has been told. Only your coach can read what you wrote.")
    return redirect("lessons:me")


@for_link_holder
@require_POST
def pain_day(request: HttpRequest, link: ShareLink) -> HttpResponse:
    """Say how strong it is today; two calm days running open full swings again."""
    form = PainDayForm(request.POST, auto_id="day_%s")
    if not form.is_valid():
        return render_home(request, link, status=422, pain_day_form=form)
    told = say_pain_today(
        student=link.student, severity=form.cleaned_data["pain"], day=timezone.localdate(), written_by=writer(link))
    messages.success(request, told.sentence)
    return redirect("lessons:me")


def _stored(form: Form, store: Any) -> bool:
    """Run the service on a valid form; its refusal becomes the form's error."""
    if not form.is_valid():
        return False
    try:
        store(form.cleaned_data)
    except ValidationError as error:
        form.add_error(None, error)
        return False
    return True
