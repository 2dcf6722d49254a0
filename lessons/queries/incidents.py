"""Incidents as each person may read them."""

from typing import Any

from django.db.models import Q, QuerySet
from django.utils import timezone

from academy.models import Coach
from lessons.models import CoachCheck, Incident


def incidents_for(coach: Coach) -> QuerySet:
    """Return what this person may know of: an owner and the welfare lead all, a coach what they keep, wrote, or
    what happened to a student of theirs."""
    rows = Incident.objects.select_related("venue", "keeper", "student__coach", "created_by")
    if coach.is_owner or coach.is_welfare_lead:
        return rows
    return rows.filter(Q(keeper=coach) | Q(created_by=coach) | Q(student__coach=coach))


def may_read_health(*, coach: Coach, incident: Incident) -> bool:
    """What was hurt is for the writer, the student's own coach and the welfare lead; never for an owner as owner."""
    taught = incident.student is not None and incident.student.coach_id == coach.pk
    return coach.is_welfare_lead or taught or incident.created_by_id == coach.pk


def page(*, coach: Coach) -> dict[str, Any]:
    """Return the incidents, open ones first, and the coaches' papers. Two queries."""
    today = timezone.localdate()
    rows = list(incidents_for(coach))
    for row in rows:
        row.days = (today - row.happened_on).days
        row.health = row.health_text if may_read_health(coach=coach, incident=row) else ""
        row.name = row.student.name if row.student and may_read_health(coach=coach, incident=row) else ""
    checks = list(CoachCheck.objects.select_related("coach")) if coach.is_owner or coach.is_welfare_lead else []
    return {
        "open": [row for row in rows if row.closed_on is None],
        "closed": [row for row in rows if row.closed_on is not None][:50],
        "checks": checks, "today": today,
    }
