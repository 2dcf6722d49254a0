"""Private links: the door for students, and issuing and ending links for coaches."""

from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_not_required
from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from academy import access, share
from academy.link_forms import LinkForm, SecondFactorForm
from academy.models import ShareLink
from academy.qr import qr_svg

LONGEST = 180 * 24 * 3600


@login_not_required
@require_http_methods(["GET", "HEAD", "POST"])
def exchange(request: HttpRequest, token: str) -> HttpResponse:
    """Swap a link for a session by a button. A GET changes nothing, so that mail scanners use nothing up."""
    link = share.find_link(token=token)
    if link is None:
        return gone(request)
    form = SecondFactorForm(request.POST or None, link=link)
    if request.method == "POST" and form.is_valid():
        remember_link(request, link)
        return redirect("lessons:me")
    page = {"form": form, "asks": bool(link.second_factor_digest)}
    response = render(request, "academy/share_open.html", page, status=422 if form.errors else 200)
    # The address of this page is the secret: no other page, script or style may learn it as a referrer. Not
    # "no-referrer": with that, browsers send "Origin: null" and the button would be refused.
    response["Referrer-Policy"] = "strict-origin"
    return response


def gone(request: HttpRequest) -> HttpResponse:
    """Answer unknown, expired, ended and mistyped links alike."""
    return render(request, "academy/share_gone.html", status=404)


def remember_link(request: HttpRequest, link: ShareLink) -> None:
    """Keep the link in the session. A signed-in coach who tries a link stays signed in, under the own limits."""
    request.session.cycle_key()
    request.session[access.LINK_SESSION_KEY] = link.pk
    if not request.user.is_authenticated:
        left = (link.expires_at - timezone.now()).total_seconds()
        request.session.set_expiry(max(1, min(int(left), LONGEST)))


@login_not_required
@require_POST
def forget(request: HttpRequest) -> HttpResponse:
    """Close the private page on this device; the link itself keeps working."""
    request.session.pop(access.LINK_SESSION_KEY, None)
    if not request.user.is_authenticated:
        request.session.flush()
    response = render(request, "academy/share_closed.html")
    response["Clear-Site-Data"] = '"cache"'
    return response


@require_POST
def issue(request: HttpRequest, code: Any) -> HttpResponse:
    """Make a link and show it once, as text and as QR."""
    student = access.owned_student_for(coach=request.user, code=code)
    form = LinkForm(request.POST, student=student)
    problem = "" if form.is_valid() else " ".join(sum(form.errors.values(), []))
    if not problem:
        try:
            link, token = share.issue_link(student=student, by=request.user, **form.cleaned_data)
        except ValidationError as error:
            problem = " ".join(error.messages)
    if problem:
        messages.error(request, problem)
        return redirect("lessons:student", code=student.code)
    address = request.build_absolute_uri(f"/p/{token}/")
    page = {"student": student, "link": link, "address": address, "qr": qr_svg(text=address)}
    return render(request, "academy/share_issued.html", page)


@require_POST
def revoke(request: HttpRequest, code: Any, link_code: Any) -> HttpResponse:
    """End a link at once."""
    student = access.owned_student_for(coach=request.user, code=code)
    share.revoke_link(link=access.belonging(rows=student.links.all(), code=link_code))
    messages.success(request, "The link is ended. Whoever had it open sees nothing from now on.")
    return redirect("lessons:student", code=student.code)
