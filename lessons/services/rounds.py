"""Rounds and the official index are stored here. Nothing that can be worked out is stored."""

from typing import Any

from academy.journal import journal, undo
from academy.models import Change, Coach, Student
from lessons.models import Round

INDEX = "Official index"


def add_round(*, by: Coach, student: Student, **values: Any) -> Round:
    """Store a round; the same card sent twice is stored once."""
    with journal(by=by, student=student, sentence=f"Round of {values['adjusted_gross']} noted") as entry:
        Student.objects.select_for_update().only("pk").get(pk=student.pk)
        again = student.rounds.filter(removed_at__isnull=True, **values).first()
        if again is not None:
            return again
        played = Round(student=student, **values)
        entry.create(played)
    return played


def remove_round(*, by: Coach, played: Round) -> None:
    """Take a round out of view."""
    with journal(by=by, student=played.student, sentence=f"Round of {played.adjusted_gross} taken out") as entry:
        entry.remove(played)


def put_round_back(*, by: Coach, played: Round) -> None:
    """Bring a round back that was taken out."""
    with journal(by=by, student=played.student, sentence=f"Round of {played.adjusted_gross} put back") as entry:
        entry.update(played, removed_at=None)


def set_official_index(*, by: Coach, student: Student, handicap_index: float | None) -> None:
    """Store the official index; it wins over what the rounds say."""
    said = f"{INDEX} taken out" if handicap_index is None else f"{INDEX} {handicap_index:.1f}"
    with journal(by=by, student=student, sentence=said) as entry:
        entry.update(student, handicap_index=handicap_index)


def index_change(*, student: Student) -> Change | None:
    """Return the newest change of the official index that was not taken back. One query."""
    rows = Change.objects.filter(student=student, undone_at=None, sentence__startswith=INDEX)
    return rows.order_by("-pk").first()


def put_index_back(*, by: Coach, student: Student) -> bool:
    """Take the newest change of the official index back; False where there is none. CannotUndo says why not."""
    change = index_change(student=student)
    if change is not None:
        undo(change=change, by=by)
    return change is not None
