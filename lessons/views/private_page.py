"""The private page: what a student or guardian reads, and what is kept about them."""

from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from academy import health, share
from academy.models import ShareLink
from lessons.forms.practice import DeletionForm, MessageForm, PainDayForm, PainForm, PracticeForm
from lessons.queries import kept
from lessons.queries.private_page import private_page
from lessons.services import messages as message_service
from lessons.services.practice import note_opened

from .holder import for_link_holder, new_key, writer


@for_link_holder
@require_GET
def home(request: HttpRequest, link: ShareLink) -> HttpResponse:
    """Show the page. A coach who tries the link is not counted as the student having read it."""
    page = private_page(student=link.student, house=request.academy, now=timezone.now())
    response = _draw(request, link, page)
    if not request.user.is_authenticated:
        share.note_seen(link=link)
        note_opened(student=link.student, advice_is_new=page["advice_is_new"])
    return response


def render_home(request: HttpRequest, link: ShareLink, *, status: int = 200, **forms: Any) -> HttpResponse:
    """Draw the page again; ``forms`` puts a form with its errors in place of a fresh one."""
    page = private_page(student=link.student, house=request.academy, now=timezone.now())
    return _draw(request, link, page, status=status, **forms)


def _draw(
    request: HttpRequest, link: ShareLink, page: dict[str, Any], *, status: int = 200, **forms: Any
) -> HttpResponse:
    fresh = {
        "tick_form": PracticeForm(initial=new_key(), auto_id="tick_%s"),
        "message_form": MessageForm(initial=new_key(), auto_id="message_%s"),
        "pain_form": PainForm(initial=new_key(), auto_id="pain_%s"),
        "pain_day_form": PainDayForm(auto_id="day_%s") if page["stopped"] else None,
    }
    context = {
        **page, **fresh, **forms, "guardian": writer(link), "red_flags": health.RED_FLAGS,
        "not_medical": health.NOT_MEDICAL, "link_until": link.expires_at,
    }
    return render(request, "lessons/private/home.html", context, status=status)


@for_link_holder
@require_GET
def about(request: HttpRequest, link: ShareLink) -> HttpResponse:
    """Say what is kept, why and by whom it is read; offer the download and the request to delete."""
    form = DeletionForm(initial=new_key())
    return render(request, "lessons/private/kept.html", {"kept": kept.overview(student=link.student), "form": form})


@for_link_holder
@require_GET
def download(request: HttpRequest, link: ShareLink, form: str) -> HttpResponse:
    """Hand over everything about the student that is theirs: for machines (json) or for reading (txt)."""
    record = kept.everything(student=link.student)
    if form == "json":
        response: HttpResponse = JsonResponse(record, json_dumps_params={"indent": 1, "ensure_ascii": False})
    else:
        response = HttpResponse(kept.as_text(record), content_type="text/plain; charset=utf-8")
    response["Content-Disposition"] = f'attachment; filename="my-golf-record.{form}"'
    return response


@for_link_holder
@require_POST
def ask_deletion(request: HttpRequest, link: ShareLink) -> HttpResponse:
    """Pass a request to delete on to the coach."""
    form = DeletionForm(request.POST)
    if form.is_valid():
        try:
            message_service.ask_deletion(student=link.student, written_by=writer(link), **form.cleaned_data)
            messages.success(request, "Your request is with your coach. Nothing is deleted until you two have spoken.")
            return redirect("lessons:me_kept")
        except ValidationError as error:
            form.add_error(None, error)
    page = {"kept": kept.overview(student=link.student), "form": form}
    return render(request, "lessons/private/kept.html", page, status=422)
