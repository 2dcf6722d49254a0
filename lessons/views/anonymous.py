"""The academy's numbers without its people: what would be in the file, who is left out, and the file itself."""

from typing import Any

from django import forms
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_GET

from academy.access import require_owner
from lessons.archive.anonymous import CANNOT, USUAL, Anonymous, TooFew, anonymous
from lessons.archive.anonymous_files import as_document, as_text


class LeastForm(forms.Form):
    """How many must look alike."""

    least = forms.TypedChoiceField(
        choices=[(5, "5"), (10, "10"), (20, "20")], coerce=int, initial=USUAL,
        label="How many must look alike", help_text="More is safer and tells less.")


@require_GET
def page(request: HttpRequest) -> HttpResponse:
    """Say what the file would hold."""
    require_owner(coach=request.user)
    return _page(request, *_found(request))


@require_GET
def download(request: HttpRequest, form: str) -> HttpResponse:
    """Hand over the file, for machines (json) or to read (txt)."""
    require_owner(coach=request.user)
    found, *rest = _found(request)
    if found is None:
        return _page(request, found, *rest, status=422)
    if form == "json":
        answer: HttpResponse = JsonResponse(as_document(found))
    else:
        answer = HttpResponse(as_text(found), content_type="text/plain; charset=utf-8")
    answer["Content-Disposition"] = f'attachment; filename="numbers-without-people.{form}"'
    return answer


def _found(request: HttpRequest) -> tuple[Anonymous | None, LeastForm, str]:
    asked = LeastForm(request.GET if "least" in request.GET else {"least": USUAL})
    least = asked.cleaned_data["least"] if asked.is_valid() else USUAL
    try:
        return anonymous(day=timezone.localdate(), adult_age=request.academy.adult_age, least=least), asked, ""
    except TooFew as few:
        return None, asked, str(few)


def _page(
    request: HttpRequest, found: Anonymous | None, form: LeastForm, problem: str, *, status: int = 200
) -> HttpResponse:
    context: dict[str, Any] = {"found": found, "form": form, "problem": problem, "cannot": CANNOT}
    return render(request, "lessons/anonymous.html", context, status=422 if form.errors else status)
