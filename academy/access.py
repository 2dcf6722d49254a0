"""The only judge of rights over people. Each function returns what may be seen, or raises Http404.

A stranger, a wrong code and a missing row all get the same answer, so that nothing can be learnt by asking.
The rights table in DEVELOPERS.md is compared with this file by a test.
"""

from typing import Any

from django.db.models import QuerySet
from django.http import Http404, HttpRequest
from django.utils import timezone

from . import share
from .models import Coach, ShareLink, Student

LINK_SESSION_KEY = "private_link"


def student_for(*, coach: Coach, code: Any) -> Student:
    """Return a student whom this person may see. One query."""
    student = Student.objects.visible_to(coach).select_related("coach").filter(code=code).first()
    if student is None:
        raise Http404("There is no such student.")
    told(coach=coach, student=student)
    return student


def shown_student_for(*, coach: Coach, code: Any) -> Student:
    """Return a student whose page this person may open, whole or reduced; see ``StudentQuerySet.shown_to``. One
    query."""
    student = Student.objects.shown_to(coach).select_related("coach").filter(code=code).first()
    if student is None:
        raise Http404("There is no such student.")
    told(coach=coach, student=student)
    return student


def told(*, coach: Coach, student: Student) -> None:
    """Remember on the reader whose record was handed out in this request; academy.reading writes it down."""
    coach.records_read[student.pk] = student


def owned_student_for(*, coach: Coach, code: Any) -> Student:
    """Return a student whom this person teaches: lessons, notes and health are the assigned coach's alone."""
    student = student_for(coach=coach, code=code)
    if student.coach_id != coach.pk:
        raise Http404("There is no such student.")
    return student


def belonging(*, rows: QuerySet, code: Any) -> Any:
    """Return the row with this code from rows that were already narrowed to one student. One query."""
    row = rows.filter(code=code).first()
    if row is None:
        raise Http404("There is no such thing.")
    return row


def require_owner(*, coach: Coach) -> None:
    """Raise Http404 unless this person owns the academy."""
    if not coach.is_owner:
        raise Http404("There is no such page.")


def require_coach(*, coach: Coach) -> None:
    """Raise Http404 unless this person teaches."""
    if not coach.is_coach:
        raise Http404("There is no such page.")


def require_roster(*, coach: Coach) -> None:
    """Raise Http404 unless this person owns the academy or teaches; the welfare lead has a list of their own."""
    if not (coach.is_owner or coach.is_coach):
        raise Http404("There is no such page.")


def require_library_keeper(*, coach: Coach) -> None:
    """Raise Http404 unless this person teaches or owns the academy: they keep the library's own values."""
    if not (coach.is_coach or coach.is_owner):
        raise Http404("There is no such page.")


def may_read_coaching(*, coach: Coach, student: Student) -> bool:
    """Coaching notes and health text: the assigned coach only, never the owner as owner."""
    return student.coach_id == coach.pk


def cared_student_for(*, coach: Coach, code: Any) -> Student:
    """Return a student whose guardians and consents this person keeps: the assigned coach, or, for a junior,
    the welfare lead. Two queries at most."""
    student = Student.objects.select_related("coach").filter(code=code).first()
    if student is not None:
        told(coach=coach, student=student)
        if student.coach_id == coach.pk:
            return student
        if coach.is_welfare_lead and student.is_junior(adult_age=share.adult_age()):
            return student
    raise Http404("There is no such student.")


def require_readings(*, coach: Coach) -> None:
    """Raise Http404 unless this person answers for who reads what: the owner, and for juniors the welfare lead."""
    if not (coach.is_owner or coach.is_welfare_lead):
        raise Http404("There is no such page.")


def require_welfare_lead(*, coach: Coach) -> None:
    """Raise Http404 unless this person looks after the juniors' welfare."""
    if not coach.is_welfare_lead:
        raise Http404("There is no such page.")


def link_for(*, request: HttpRequest) -> ShareLink:
    """Return the private link that this browser has exchanged, while it works. Two queries at most."""
    key = request.session.get(LINK_SESSION_KEY)
    link = None
    if key is not None:
        link = ShareLink.objects.select_related("student__coach", "guardian").filter(pk=key).first()
    if link is None or not share.still_works(link=link, now=timezone.now()):
        raise Http404("This page is not available. Ask your coach for a new link.")
    return link
