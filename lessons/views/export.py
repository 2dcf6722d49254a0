"""A record handed over: one table as CSV, one student's or the academy's archive as JSON."""

from datetime import date
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.utils import timezone
from django.views.decorators.http import require_GET

from academy.access import may_read_coaching, require_owner, student_for
from lessons import archive


@require_GET
def student_table(request: HttpRequest, code: Any, table: str) -> HttpResponse:
    """Hand over one table. Whoever does not teach the student gets the sharing form, as everywhere."""
    student = student_for(coach=request.user, code=code)
    if table not in archive.CSV_TABLES:
        raise Http404("There is no such table.")
    sharing = not may_read_coaching(coach=request.user, student=student)
    data = archive.table_csv(student=student, name=table, sharing=sharing)
    if data is None:
        raise Http404("There is no such table.")
    return _as_file(HttpResponse(data, content_type="text/csv; charset=utf-8"), f"{table}-{_today()}.csv")


@require_GET
def student_archive(request: HttpRequest, code: Any) -> HttpResponse:
    """Hand over one student's record: whole for their coach, the sharing form for an owner."""
    student = student_for(coach=request.user, code=code)
    sharing = not may_read_coaching(coach=request.user, student=student)
    return _json(archive.write(student=student, sharing=sharing), f"student-{_today()}.json")


@require_GET
def academy_archive(request: HttpRequest) -> HttpResponse:
    """Hand over the academy's record in the sharing form; the whole one is made on the machine itself."""
    require_owner(coach=request.user)
    return _json(archive.write(sharing=True), f"academy-{_today()}.json")


def _json(document: dict[str, Any], name: str) -> HttpResponse:
    return _as_file(JsonResponse(document, json_dumps_params={"ensure_ascii": False, "allow_nan": False}), name)


def _as_file(response: HttpResponse, name: str) -> HttpResponse:
    response["Content-Disposition"] = f'attachment; filename="{name}"'
    response["X-Content-Type-Options"] = "nosniff"
    return response


def _today() -> date:
    return timezone.localdate()
