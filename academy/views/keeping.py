"""For the owner: what is kept, why, how long; who was erased; who read what."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_GET, require_http_methods

from academy import access, keeping
from academy.account_forms import KeepingForm
from academy.backup import KEEP, newest_backup
from academy.models import Erasure, Reading, Student

SHOWN = 300


@require_http_methods(["GET", "POST"])
def page(request: HttpRequest) -> HttpResponse:
    """Show the record of what is kept, and store the academy's own lengths."""
    access.require_owner(coach=request.user)
    form = KeepingForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        keeping.set_days(days=form.cleaned_data)
        messages.success(request, "Stored. What is due ends with the next daily run.")
        return redirect("academy:keeping")
    context = {
        "rows": [(line, form[line.key]) for line, _ in keeping.table()], "form": form,
        "erasures": Erasure.objects.select_related("created_by")[:50], "newest_backup": newest_backup(),
        "backups": KEEP,
    }
    return render(request, "academy/keeping.html", context, status=422 if form.errors else 200)


@require_GET
def readings(request: HttpRequest) -> HttpResponse:
    """Show who read juniors' records and health data and took exports: an owner all, a welfare lead the juniors'."""
    access.require_readings(coach=request.user)
    rows = Reading.objects.select_related("reader").order_by("-day", "-pk")
    if not request.user.is_owner:
        rows = rows.filter(kind=Reading.Kind.JUNIOR)
    rows = list(rows[:SHOWN])
    names = dict(Student.objects.filter(code__in={row.student_code for row in rows}).values_list("code", "name"))
    lines = [(row, names.get(row.student_code, "")) for row in rows]
    return render(request, "academy/readings.html", {"lines": lines, "shown": SHOWN})
