"""Writing people: the academy and its first owner, students, their intents and goals."""

from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction

from .journal import journal
from .models import Academy, Coach, Intent, Student


@transaction.atomic
def found_academy(*, name: str, timezone: str, units: str, username: str, password: str, full_name: str) -> Coach:
    """Create the academy and its first owner, who also teaches. Refused where an academy exists."""
    if Academy.objects.exists():
        raise ValidationError("This academy is already set up.")
    academy = Academy(pk=1, name=name, timezone=timezone, units=units)
    academy.full_clean()
    academy.save(force_insert=True)
    first, _, last = full_name.partition(" ")
    owner = Coach(username=username, first_name=first, last_name=last, is_owner=True, is_coach=True)
    owner.set_password(password)
    owner.full_clean()
    owner.save(force_insert=True)
    return owner


def add_student(*, by: Coach, **values: Any) -> Student:
    """Store a new student of this coach unless another is named."""
    student = Student(**{"coach": by, **values})
    with journal(by=by, sentence=f"{student.name} added") as entry:
        entry.create(student)
        entry.student = student
    return student


def change_student(*, by: Coach, student: Student, **values: Any) -> Student:
    """Store new values of a student."""
    with journal(by=by, student=student, sentence=f"{student.name}’s record changed") as entry:
        entry.update(student, **values)
    return student


def set_intent(*, by: Coach, student: Student, category: str, shape: str) -> Intent:
    """Store which flight the student wants with one kind of club."""
    with journal(by=by, student=student, sentence=f"Wanted flight: {shape}") as entry:
        intent = Intent.objects.filter(student=student, category=category).first()
        if intent is None:
            intent = Intent(student=student, category=category, shape=shape)
            entry.create(intent)
        else:
            entry.update(intent, shape=shape)
    return intent
