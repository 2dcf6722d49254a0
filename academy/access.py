"""The only judge of rights over people. Each function returns what may be seen, or raises Http404.

A stranger, a wrong code and a missing row all get the same answer, so that nothing can be learnt by asking.
The rights table in DEVELOPERS.md is compared with this file by a test.
"""

from typing import Any

from django.http import Http404, HttpRequest
from django.utils import timezone

from .models import Coach, ShareLink, Student

LINK_SESSION_KEY = "private_link"


def student_for(*, coach: Coach, code: Any) -> Student:
    """Return a student whom this person may see. One query."""
    student = Student.objects.visible_to(coach).select_related("coach").filter(code=code).first()
    if student is None:
        raise Http404("There is no such student.")
    return student


def owned_student_for(*, coach: Coach, code: Any) -> Student:
    """Return a student whom this person teaches: lessons, notes and health are the assigned coach's alone."""
    student = student_for(coach=coach, code=code)
    if student.coach_id != coach.pk:
        raise Http404("There is no such student.")
    return student


def require_owner(*, coach: Coach) -> None:
    """Raise Http404 unless this person owns the academy."""
    if not coach.is_owner:
        raise Http404("There is no such page.")


def require_coach(*, coach: Coach) -> None:
    """Raise Http404 unless this person teaches."""
    if not coach.is_coach:
        raise Http404("There is no such page.")


def may_read_coaching(*, coach: Coach, student: Student) -> bool:
    """Coaching notes and health text: the assigned coach only, never the owner as owner."""
    return student.coach_id == coach.pk


def link_for(*, request: HttpRequest) -> ShareLink:
    """Return the private link that this browser has exchanged, while it works. One query."""
    key = request.session.get(LINK_SESSION_KEY)
    link = None
    if key is not None:
        link = ShareLink.objects.select_related("student", "guardian").filter(pk=key).first()
    if link is None or not link.works_at(timezone.now()) or link.student.status == Student.Status.LEFT:
        raise Http404("This page is not available. Ask your coach for a new link.")
    return link
