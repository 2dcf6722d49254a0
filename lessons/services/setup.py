"""Noting the setup: one number of one checkpoint before or after the change."""

from collections.abc import Mapping
from typing import Protocol

from django.db import transaction

from academy.journal import Entry as JournalEntry
from academy.journal import journal
from academy.models import Coach
from lessons.models import Lesson, SetupObservation
from lessons.queries.assess import forget
from lessons.queries.setup import noted_for
from metrics.checkpoints import CHECKPOINTS
from metrics.rules.words import directed


class Noted(Protocol):
    """A number in the checkpoint's unit and the text it was typed as; None takes it out.

    A number read from a photo may bring its own ``uncertainty``; else a photo has the usual one of its checkpoint.
    """

    value: float | None
    entered: str


@transaction.atomic
def note_setup(
    *, by: Coach, lesson: Lesson, category: str, numbers: Mapping[tuple[str, str], Noted], method: str = "",
) -> int:
    """Store numbers by (checkpoint, phase) and return how many changed. The same again changes nothing."""
    Lesson.objects.select_for_update().only("pk").get(pk=lesson.pk)
    forget(lesson)
    noted = noted_for(lesson=lesson, category=category)
    with journal(by=by, student=lesson.student, lesson_code=lesson.code, sentence=_sentence(lesson, numbers)) as entry:
        for (checkpoint, phase), number in numbers.items():
            _note(entry, noted.get((checkpoint, phase)), lesson, category, checkpoint, phase, number,
                  method or SetupObservation.Method.EYE)
        return len(entry.operations)


def _note(entry: JournalEntry, row: SetupObservation | None, lesson: Lesson, category: str, checkpoint: str,
          phase: str, number: Noted, method: str) -> None:
    if number.value is None:
        if row is not None:
            entry.remove(row)
        return
    usual = CHECKPOINTS[checkpoint].photo_error if method == SetupObservation.Method.PHOTO else None
    photo = getattr(number, "uncertainty", usual)
    values = {"value": number.value, "entered": number.entered, "method": method, "uncertainty": photo,
              "camera": getattr(number, "camera", "")}
    if row is None:
        entry.create(SetupObservation(
            lesson=lesson, category=category, checkpoint=checkpoint, phase=phase, **values))
    else:
        entry.update(row, **values)


def _sentence(lesson: Lesson, numbers: Mapping[tuple[str, str], Noted]) -> str:
    if len(numbers) != 1:
        return f"{len(numbers)} setup numbers noted"
    ((checkpoint, phase), number), = numbers.items()
    label = CHECKPOINTS[checkpoint].label
    if number.value is None:
        return f"{label}, {phase}: taken out"
    return f"{label}, {phase}: {directed(checkpoint, value=number.value, hand=lesson.student.hand)}"
