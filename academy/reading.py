"""Noting who read a junior's record, health data, or took an export along. Codes only; once a day, person and kind.

``academy.access`` and ``lessons.access`` note on the reader whose record they handed out (``records_read``); the
middleware writes it down when the answer went well.
"""

from datetime import datetime
from typing import Any

from django.http import HttpRequest
from django.utils import timezone

from . import access
from .models import Coach, Reading, ShareLink

HEALTH = frozenset({"academy:health", "academy:health_clear", "lessons:pain"})
OF_ALL = frozenset({"lessons:academy_archive", "lessons:anonymous_json", "lessons:anonymous_txt"})
EXPORTS = OF_ALL | {"lessons:student_table", "lessons:student_archive", "lessons:me_json", "lessons:me_txt"}
"""Addresses; a test looks for every address that hands out a file of somebody's record."""


def kinds(*, name: str, junior: bool) -> list[str]:
    """Return what a read of this address is, for a junior or for somebody of age."""
    found = [Reading.Kind.JUNIOR] if junior else []
    found += [Reading.Kind.HEALTH] if name in HEALTH else []
    return found + ([Reading.Kind.EXPORT] if name in EXPORTS else [])


def note_reads(*, request: HttpRequest, now: datetime) -> None:
    """Write down what this request read, if it was of a kind that is noted. No query otherwise."""
    name = request.resolver_match.view_name if request.resolver_match else ""
    coach = request.user if request.user.is_authenticated else None
    adult = request.academy.adult_age if request.academy else 18
    if coach is not None:
        for student in coach.records_read.values():
            _note(coach, student.code, kinds(name=name, junior=student.is_junior(adult_age=adult)), now)
        if name in OF_ALL:
            _note(coach, None, [Reading.Kind.EXPORT], now)
    elif name in EXPORTS and access.LINK_SESSION_KEY in request.session:
        link = ShareLink.objects.select_related("student").filter(pk=request.session[access.LINK_SESSION_KEY]).first()
        if link is not None:
            _note(None, link.student.code, [Reading.Kind.EXPORT], now)


def _note(coach: Coach | None, code: Any, found: list[str], now: datetime) -> None:
    day = timezone.localdate(now)
    for kind in found:
        Reading.objects.get_or_create(
            day=day, reader=coach, student_code=code, kind=kind, defaults={"first_at": now}
        )
