"""Concerns about a child's welfare, or anybody's: straight to the welfare lead, past coaches and owners.

Not in the journal: its lines are read by coaches, and that there is a concern may be as much as they must not know.
Whom it has to be passed on to is a matter of local law and of the association's policy.
"""

import uuid

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone

from .models import Coach, Concern, Student
from .models.base import Source


def welfare_leads() -> list[Coach]:
    """Return who reads concerns. One query."""
    return list(Coach.objects.filter(is_welfare_lead=True, is_active=True).order_by("pk"))


@transaction.atomic
def raise_concern(*, student: Student, key: uuid.UUID, text: str, written_by: str = "") -> Concern:
    """Store a concern, once for each key. A key that was used for somebody else is refused."""
    Student.objects.select_for_update().only("pk").get(pk=student.pk)
    stored = Concern.objects.filter(key=key).first()
    if stored is not None:
        if stored.student_id != student.pk:
            raise ValidationError("This was sent from another page.")
        return stored
    concern = Concern(
        student=student, key=key, text=text, written_by=written_by, sent_at=timezone.now(), source=Source.STUDENT)
    concern.full_clean()
    concern.save(force_insert=True)
    return concern


def open_concerns() -> list[Concern]:
    """Return what is not closed, oldest first. One query."""
    return list(Concern.objects.filter(closed_at__isnull=True).select_related("student__coach").order_by("sent_at"))


def close_concern(*, by: Coach, concern: Concern, outcome: str) -> Concern:
    """Note what was done. A closed concern stays as it is."""
    if concern.closed_at is None:
        concern.outcome, concern.closed_at, concern.created_by = outcome, timezone.now(), by
        concern.full_clean()
        concern.save(update_fields=["outcome", "closed_at", "created_by"])
    return concern
