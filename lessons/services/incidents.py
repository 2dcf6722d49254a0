"""Incidents and papers: noted, closed, in the journal."""

from typing import Any

from django.utils import timezone

from academy.journal import journal
from academy.models import Coach
from lessons.models import CoachCheck, Incident


def note_incident(*, by: Coach, incident: Incident) -> Incident:
    """Store an incident. The journal names its kind and nothing of what happened."""
    with journal(by=by, student=incident.student, sentence=f"Incident noted: {incident.get_kind_display()}") as entry:
        entry.create(incident)
    return incident


def close_incident(*, by: Coach, incident: Incident, outcome: str) -> Incident:
    """Close an incident with how it ended."""
    with journal(by=by, student=incident.student, sentence="Incident closed") as entry:
        entry.update(incident, closed_on=timezone.localdate(), outcome=outcome)
    return incident


def reopen_incident(*, by: Coach, incident: Incident) -> Incident:
    """Open a closed incident again."""
    with journal(by=by, student=incident.student, sentence="Incident opened again") as entry:
        entry.update(incident, closed_on=None)
    return incident


def note_check(*, by: Coach, **values: Any) -> CoachCheck:
    """Store a paper of a coach."""
    row = CoachCheck(**values)
    with journal(by=by, sentence=f"Paper noted: {row.get_kind_display()} of {row.coach}") as entry:
        entry.create(row)
    return row
