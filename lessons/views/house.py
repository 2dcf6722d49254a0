"""The house rules: what the academy asks of its diary and its office."""

from dataclasses import asdict

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from academy.access import require_owner
from lessons.forms.house import HouseForm
from lessons.house import house
from lessons.services.house import set_house


@require_http_methods(["GET", "POST"])
def page(request: HttpRequest) -> HttpResponse:
    """Show and store the rules; the figures and warnings follow them at once."""
    require_owner(coach=request.user)
    kept = {**asdict(house()), "currency": request.academy.house_rules.get("currency", "EUR")}
    form = HouseForm(request.POST or None, initial=kept)
    if request.method == "POST" and form.is_valid():
        set_house(values=form.cleaned_data)
        messages.success(request, "The house rules are stored.")
        return redirect("lessons:house")
    return render(request, "lessons/house.html", {"form": form}, status=422 if form.errors else 200)
