"""Signing in and out, the first run, the one-time local link."""

from datetime import datetime, timedelta

from django.contrib.auth import login
from django.contrib.auth import views as auth_views
from django.contrib.auth.decorators import login_not_required
from django.contrib.auth.forms import AuthenticationForm
from django.core.exceptions import ValidationError
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods

from academy import people, second_factor, share
from academy.account_forms import CodeForm
from academy.forms import FirstRunForm
from academy.models import Academy, Coach

MODEL_BACKEND = "django.contrib.auth.backends.ModelBackend"


SECOND_STEP = "second_step"
"""Session key: who has given the right password and still owes a code, until when, and where to go then."""
SECOND_STEP_MINUTES = 10


class SignIn(auth_views.LoginView):
    template_name = "academy/sign_in.html"
    redirect_authenticated_user = True

    def form_valid(self, form: AuthenticationForm) -> HttpResponse:
        """Sign in, or ask for the code first where the person has chosen a second factor."""
        coach = form.get_user()
        if not second_factor.is_on(coach):
            return super().form_valid(form)
        until = timezone.now() + timedelta(minutes=SECOND_STEP_MINUTES)
        self.request.session.cycle_key()
        self.request.session[SECOND_STEP] = [coach.pk, until.isoformat(), self.get_success_url()]
        return redirect("academy:sign_in_code")


@login_not_required
@require_http_methods(["GET", "POST"])
def second_step(request: HttpRequest) -> HttpResponse:
    """Ask for the code; the password was right a moment ago."""
    number, until, target = request.session.get(SECOND_STEP, (None, "", ""))
    if number is None or datetime.fromisoformat(until) <= timezone.now():
        return redirect("academy:sign_in")
    coach = Coach.objects.filter(pk=number, is_active=True).first()
    form = CodeForm(request.POST or None)
    if coach is not None and request.method == "POST" and form.is_valid() and _fits(coach, form):
        del request.session[SECOND_STEP]
        login(request, coach, backend=MODEL_BACKEND)
        return redirect(target)
    return render(request, "academy/sign_in_code.html", {"form": form}, status=422 if form.errors else 200)


def _fits(coach: Coach, form: CodeForm) -> bool:
    try:
        right = second_factor.check(coach=coach, code=form.cleaned_data["code"], now=timezone.now())
    except ValidationError as error:
        form.add_error("code", error)
        return False
    if not right:
        form.add_error("code", "This code does not fit, or was used before. Wait for the next one.")
    return right


class SignOut(auth_views.LogoutView):
    """Sign out by POST, and ask the browser to forget the pages it has kept.

    Not its storage: balls and practices that wait there for the network must still be sent.
    """

    def dispatch(self, request: HttpRequest, *args, **kwargs) -> HttpResponse:
        response = super().dispatch(request, *args, **kwargs)
        response["Clear-Site-Data"] = '"cache"'
        return response


@login_not_required
@require_http_methods(["GET", "POST"])
def first_run(request: HttpRequest) -> HttpResponse:
    """Ask for the academy's name and first owner; gone once an academy exists."""
    if Academy.objects.exists():
        raise Http404("The academy is already set up.")
    form = FirstRunForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        values = form.cleaned_data
        owner = people.found_academy(name=values.pop("academy_name"), **values)
        login(request, owner, backend=MODEL_BACKEND)
        return redirect("/")
    return render(request, "academy/first_run.html", {"form": form}, status=422 if form.errors else 200)


@login_not_required
@require_GET
def entry(request: HttpRequest, token: str) -> HttpResponse:
    """Sign in by a one-time link that a command on this machine printed."""
    coach = share.use_entry(token=token, now=timezone.now())
    if coach is None:
        raise Http404("This link was used already or is too old; start the program again for a new one.")
    login(request, coach, backend=MODEL_BACKEND)
    return redirect("/")
