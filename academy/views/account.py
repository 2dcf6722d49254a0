"""Signing in and out, the first run, the one-time local link."""

from django.contrib.auth import login
from django.contrib.auth import views as auth_views
from django.contrib.auth.decorators import login_not_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods

from academy import people, share
from academy.forms import FirstRunForm
from academy.models import Academy

MODEL_BACKEND = "django.contrib.auth.backends.ModelBackend"


class SignIn(auth_views.LoginView):
    template_name = "academy/sign_in.html"
    redirect_authenticated_user = True


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
