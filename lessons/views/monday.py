"""The Monday list: worked row by row, drafts of messages, and the academy's own texts for them."""

from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from academy.access import require_owner, require_roster
from academy.models import Student
from academy.paging import paged
from lessons.forms.monday import MarkForm, TextForm
from lessons.models import QueueMark
from lessons.models.office import TEXTS
from lessons.queries.diary import coaches_of
from lessons.queries.monday import Monday, monday, narrowed
from lessons.queries.monday.drafts import WORDS, drafts, texts
from lessons.services import monday as service


@require_GET
def page(request: HttpRequest) -> HttpResponse:
    """Show who needs something; filters stay in the address."""
    require_roster(coach=request.user)
    return _draw(request, monday(coach=request.user, now=timezone.now()), MarkForm())


@require_POST
def mark(request: HttpRequest) -> HttpResponse:
    """Note rows as done or put off, or show drafts for them."""
    require_roster(coach=request.user)
    found = monday(coach=request.user, now=timezone.now())
    rows = [row for row in found.waiting if row.key in set(request.POST.getlist("row"))]
    if "draft" in request.POST:
        return render(request, "lessons/monday/drafts.html", {"drafts": drafts(rows)})
    form = MarkForm(request.POST)
    if not rows:
        form.add_error(None, "Tick the rows first.")
    if form.is_valid():
        try:
            count = service.mark_rows(by=request.user, rows=rows, **form.cleaned_data)
            messages.success(request, f"{count} row{'s' * (count != 1)} noted; it stands below and can be taken back.")
            return redirect(f"{reverse('lessons:monday')}?{request.GET.urlencode()}")
        except ValidationError as error:
            form.add_error(None, error)
    return _draw(request, found, form, status=422)


@require_POST
def back(request: HttpRequest, code: Any) -> HttpResponse:
    """Put a row back on the list."""
    seen = Student.objects.visible_to(request.user)
    found = QueueMark.objects.filter(code=code, student__in=seen, removed_at=None).select_related("student").first()
    if found is None:
        raise Http404("There is no such row.")
    service.take_mark_back(by=request.user, mark=found)
    messages.success(request, f"{found.student.name} is back on the list.")
    return redirect("lessons:monday")


@require_http_methods(["GET", "POST"])
def own_texts(request: HttpRequest) -> HttpResponse:
    """Show and store the academy's own texts."""
    require_owner(coach=request.user)
    sent = TextForm(request.POST) if request.method == "POST" else None
    if sent is not None and sent.is_valid():
        service.write_text(by=request.user, **sent.cleaned_data)
        messages.success(request, "The text is stored.")
        return redirect("lessons:monday_texts")
    forms = [
        (label, sent if sent is not None and sent.data.get("cause") == cause else TextForm(
            initial={"cause": cause, "subject": texts()[cause][0], "body": texts()[cause][1]}, auto_id=f"{cause}_%s"))
        for cause, label in TEXTS
    ]
    context = {"forms": forms, "words": WORDS}
    return render(request, "lessons/monday/texts.html", context, status=422 if sent is not None else 200)


def _draw(request: HttpRequest, found: Monday, form: MarkForm, *, status: int = 200) -> HttpResponse:
    context = {
        "found": found, "form": form, "listed": paged(narrowed(found.waiting, request.GET), request.GET),
        "coaches": coaches_of(request.user), "cause": request.GET.get("cause", ""),
        "chosen": request.GET.get("coach", ""), "asked": request.GET.urlencode(),
    }
    return render(request, "lessons/monday/page.html", context, status=status)
