"""Guardians: adding one, ending the tie, and the juniors' list for the welfare lead."""

from dataclasses import dataclass
from datetime import date

from django.db import transaction
from django.utils import timezone

from . import consents, share
from .journal import journal
from .models import Coach, Consent, Guardian, Guardianship, ShareLink, Student


def add_guardian(
    *, by: Coach, student: Student, name: str, email: str = "", phone: str = "", relation: str = "parent"
) -> Guardian:
    """Store a guardian of a student."""
    guardian = Guardian(name=name, email=email, phone=phone)
    with journal(by=by, student=student, sentence=f"{name} noted as guardian") as entry:
        entry.create(guardian)
        entry.create(Guardianship(student=student, guardian=guardian, relation=relation))
    return guardian


@transaction.atomic
def end_guardianship(*, by: Coach, student: Student, guardian: Guardian) -> None:
    """End the tie at once: the guardian's links stop, their running consents are withdrawn today."""
    for link in ShareLink.objects.filter(student=student, guardian=guardian, revoked_at__isnull=True):
        share.revoke_link(link=link)
    today = timezone.localdate()
    running = student.consents.filter(given_by_guardian=guardian, withdrawn_on__isnull=True)
    with journal(by=by, student=student, sentence=f"{guardian.name} is no longer a guardian") as entry:
        for row in running:
            entry.update(row, withdrawn_on=max(today, row.given_on))
    Guardianship.objects.filter(student=student, guardian=guardian).delete()


@dataclass(frozen=True, kw_only=True)
class JuniorLine:
    """One junior on the welfare list: who, how old, who answers for them, and what is missing."""

    student: Student
    age: int
    guardians: list[str]
    permissions: list[consents.Permission]
    lacking: list[consents.Permission]
    ending: list[consents.Permission]


def juniors(*, day: date) -> list[JuniorLine]:
    """Return all juniors who have not left, those with something lacking first. Four queries."""
    by = consents.rules()
    students = Student.objects.here().filter(born_on__isnull=False).select_related("coach")
    lines = []
    for student in students.prefetch_related("consents", "guardians"):
        age = student.age_on(day)
        if age is None or age >= by.adult_age:
            continue
        rows = list(student.consents.all())
        table = [
            consents.judge(student=student, item=item, day=day, rows=rows, by=by) for item in Consent.Item.values
        ]
        lines.append(JuniorLine(
            student=student, age=age, guardians=[guardian.name for guardian in student.guardians.all()],
            permissions=table, lacking=[one for one in table if not one.allowed],
            ending=[one for one in table if one.ends_within(day=day)],
        ))
    return sorted(lines, key=lambda line: (bool(line.guardians), -len(line.lacking), line.student.name))

