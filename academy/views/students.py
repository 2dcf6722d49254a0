"""The list of students and each one's record."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_GET, require_http_methods

from academy import access, people
from academy.forms import StudentForm
from academy.htmx import render_page
from academy.models import Student


@require_GET
def index(request: HttpRequest) -> HttpResponse:
    """List the students this person may see, found by part of the name. One query."""
    wanted = request.GET.get("q", "").replace("\0", "").strip()[:80]
    students = Student.objects.shown_to(request.user).select_related("coach").here()
    if wanted:
        students = students.filter(name__icontains=wanted)
    return render_page(
        request, page="academy/students.html", fragment="academy/_student_list.html",
        context={"students": students[:500], "q": wanted},
    )


@require_http_methods(["GET", "POST"])
def add(request: HttpRequest) -> HttpResponse:
    """Add a student of one's own."""
    access.require_coach(coach=request.user)
    form = StudentForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        student = people.add_student(by=request.user, **form.cleaned_data)
        return redirect("lessons:student", code=student.code)
    return render(
        request, "academy/student_form.html", {"form": form}, status=422 if form.errors else 200
    )


@require_http_methods(["GET", "POST"])
def record(request: HttpRequest, code: Any) -> HttpResponse:
    """Read and change a student's record."""
    student = access.owned_student_for(coach=request.user, code=code)
    form = StudentForm(request.POST or None, instance=student)
    if request.method == "POST" and form.is_valid():
        # The form has written into its own copy; the service compares with what is stored.
        stored = Student.objects.get(pk=student.pk)
        people.change_student(by=request.user, student=stored, **form.cleaned_data)
        return redirect("lessons:student", code=student.code)
    return render(
        request, "academy/student_form.html", {"form": form, "student": student},
        status=422 if form.errors else 200,
    )
