"""One's own account: password, second factor, and the devices one is signed in on."""

from django.contrib import messages
from django.contrib.auth import update_session_auth_hash
from django.contrib.auth.forms import PasswordChangeForm
from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from academy import second_factor, stay
from academy.account_forms import CodeForm, PasswordProofForm
from academy.qr import qr_svg

PROVEN = "second_factor_proven"
"""Session key: the password was given again, so that a secret may be shown."""


@require_GET
def page(request: HttpRequest) -> HttpResponse:
    """Show where one is signed in and how one signs in."""
    return render(request, "academy/account.html", {
        "devices": stay.devices_of(request.user), "here": request.session.session_key,
        "second_factor": second_factor.is_on(request.user), "left": second_factor.codes_left(coach=request.user),
    })


@sensitive_post_parameters()
@require_http_methods(["GET", "POST"])
def password(request: HttpRequest) -> HttpResponse:
    """Change the password; every other device is signed out."""
    form = PasswordChangeForm(request.user, request.POST or None)
    if request.method == "POST" and form.is_valid():
        form.save()
        update_session_auth_hash(request, request.user)
        ended = stay.end_others(coach=request.user, but=request.session.session_key)
        messages.success(request, f"The new password counts from now on. Other devices signed out: {ended}.")
        return redirect("academy:account")
    return render(request, "academy/password.html", {"form": form}, status=422 if form.errors else 200)


@require_POST
def end_device(request: HttpRequest) -> HttpResponse:
    """Sign out one other device, or all others."""
    if request.POST.get("all") == "others":
        ended = stay.end_others(coach=request.user, but=request.session.session_key)
        messages.success(request, f"Other devices signed out: {ended}.")
    elif stay.end_device(coach=request.user, code=request.POST.get("device", "")):
        messages.success(request, "That device is signed out.")
    else:
        messages.info(request, "That device was signed out already.")
    return redirect("academy:account")


@sensitive_post_parameters()
@require_http_methods(["GET", "POST"])
def second_factor_set(request: HttpRequest) -> HttpResponse:
    """Turn the second factor on: password first, then the secret, then a code made with it."""
    if second_factor.is_on(request.user):
        return redirect("academy:account")
    if not request.session.get(PROVEN):
        return _prove(request)
    secret, address = second_factor.start(coach=request.user)
    form = CodeForm(request.POST if "code" in request.POST else None)
    if form.is_valid():
        codes = second_factor.confirm(coach=request.user, code=form.cleaned_data["code"], now=timezone.now())
        if codes:
            del request.session[PROVEN]
            return render(request, "academy/recovery_codes.html", {"codes": codes})
        form.add_error("code", "This code does not fit. Check that the phone's clock is right, and try the next one.")
    picture = qr_svg(text=address, label="QR code for the app on your phone")
    context = {"form": form, "secret": secret, "qr": picture}
    return render(request, "academy/second_factor.html", context, status=422 if form.errors else 200)


def _prove(request: HttpRequest) -> HttpResponse:
    form = PasswordProofForm(request.POST or None, request=request, coach=request.user)
    if request.method == "POST" and form.is_valid():
        request.session[PROVEN] = True
        return redirect("academy:second_factor")
    context = {"form": form, "to": "turn the second step on"}
    return render(request, "academy/prove.html", context, status=422 if form.errors else 200)


@sensitive_post_parameters()
@require_http_methods(["GET", "POST"])
def second_factor_off(request: HttpRequest) -> HttpResponse:
    """Turn the second factor off with the password and a code."""
    if not second_factor.is_on(request.user):
        return redirect("academy:account")
    proof = PasswordProofForm(request.POST or None, request=request, coach=request.user)
    form = CodeForm(request.POST or None)
    if request.method == "POST" and proof.is_valid() and form.is_valid():
        try:
            if second_factor.check(coach=request.user, code=form.cleaned_data["code"], now=timezone.now()):
                second_factor.turn_off(coach=request.user)
                messages.success(request, "Signing in asks for the password alone now.")
                return redirect("academy:account")
            form.add_error("code", "This code does not fit, or was used before.")
        except ValidationError as error:
            form.add_error("code", error)
    context = {"form": proof, "code_form": form, "to": "turn the second step off"}
    return render(request, "academy/prove.html", context, status=422 if proof.errors or form.errors else 200)
