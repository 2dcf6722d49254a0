"""Erasing a person: what goes, what stays and for how long, and the confirmation."""

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods

from academy import access, erasure
from academy.account_forms import EraseForm


@sensitive_post_parameters()
@require_http_methods(["GET", "POST"])
def page(request: HttpRequest, code: Any) -> HttpResponse:
    """Show what would go; POST with the name and the own password erases it."""
    student = access.student_for(coach=request.user, code=code)
    form = EraseForm(request.POST or None, request=request, coach=request.user, name=student.name)
    names = [student.name, student.email, student.phone]
    if request.method == "POST" and form.is_valid():
        try:
            kept = erasure.erase(student=student, by=request.user)
        except erasure.CannotErase as error:
            form.add_error(None, str(error))
        else:
            messages.success(request, _said(kept, sum(erasure.mentions(names).values())))
            return redirect("academy:students")
    context = {
        "student": student, "form": form, "extent": erasure.preview(student=student),
        "until": erasure.horizon(timezone.localdate()),
    }
    return render(request, "academy/erase.html", context, status=422 if form.errors else 200)


def _said(kept, named: int) -> str:
    """Say what was done, and where the person's name still stands in words about somebody else."""
    until = f"{kept.backups_until:%-d %B %Y}"
    done = f"Erased: {kept.rows} entries and {kept.files} files. Automatic backups hold them until {until}."
    also = f" The name still stands in {named} texts of other records; look through your notes."
    return done + also if named else done
