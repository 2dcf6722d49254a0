"""Noting setups that are built without a ball: open a series, note its numbers, take the board's numbers over."""

from collections.abc import Mapping, Sequence

from django.db import transaction

from academy.journal import Entry as JournalEntry
from academy.journal import journal
from academy.models import Coach
from lessons.models import Block, Lesson, SetupLook, SetupObservation, SetupSeries
from lessons.models.setup_series import MOST_SETUPS
from lessons.queries.assess import forget
from lessons.queries.setup import noted_for
from lessons.repeated import looks_of
from metrics.checkpoints import CHECKPOINTS

from .setup import Noted


@transaction.atomic
def open_series(*, by: Coach, lesson: Lesson, block: Block, aids: Sequence[str]) -> SetupSeries:
    """Return a new series for a block's club; one that is still empty is used instead of a second one."""
    Lesson.objects.select_for_update().only("pk").get(pk=lesson.pk)
    empty = lesson.setup_series.filter(
        category=block.category, aids=list(aids), removed_at__isnull=True, looks__isnull=True).last()
    if empty is not None:
        return empty
    series = SetupSeries(lesson=lesson, category=block.category, club_name=block.club_name, aids=list(aids))
    sentence = f"Setups without a ball begun: {block.club_name}"
    with journal(by=by, student=lesson.student, lesson_code=lesson.code, sentence=sentence) as entry:
        entry.create(series)
    return series


@transaction.atomic
def note_looks(
    *, by: Coach, series: SetupSeries, numbers: Mapping[tuple[int, str], Noted], method: str = "",
) -> int:
    """Store numbers by (setup, checkpoint) and return how many changed; None takes one out."""
    lesson = series.lesson
    Lesson.objects.select_for_update().only("pk").get(pk=lesson.pk)
    forget(lesson)
    noted = {(look.number, look.checkpoint): look for look in looks_of(series)}
    sentence = f"Setups without a ball: {len(numbers)} number{'' if len(numbers) == 1 else 's'} noted"
    with journal(by=by, student=lesson.student, lesson_code=lesson.code, sentence=sentence) as entry:
        for (number, checkpoint), each in numbers.items():
            _note(entry, series, noted.get((number, checkpoint)), number, checkpoint, each,
                  method or SetupObservation.Method.EYE)
        return len(entry.operations)


def take_from_board(*, by: Coach, series: SetupSeries, phase: str, checkpoints: Sequence[str]) -> int | None:
    """Store what stands on the board as the next setup, each number with its method, and return its number; None
    where the board is empty or the series full."""
    rows = noted_for(lesson=series.lesson, category=series.category)
    number = next_number(looks_of(series))
    seen = [rows[key, phase] for key in checkpoints if (key, phase) in rows]
    if not seen or number > MOST_SETUPS:
        return None
    with transaction.atomic():
        for row in seen:
            note_looks(by=by, series=series, numbers={(number, row.checkpoint): row}, method=row.method)
    return number


def add_setup(*, by: Coach, series: SetupSeries, numbers: Mapping[str, Noted]) -> int:
    """Store numbers by checkpoint, read from a photo, as the next setup and return which one it is."""
    number = min(next_number(looks_of(series)), MOST_SETUPS)
    note_looks(by=by, series=series, method=SetupObservation.Method.PHOTO,
               numbers={(number, checkpoint): each for checkpoint, each in numbers.items()})
    return number


def next_number(looks: Sequence[SetupLook]) -> int:
    """Return the number of the next setup: after the last one that has any number."""
    return max((look.number for look in looks), default=0) + 1


def _note(entry: JournalEntry, series: SetupSeries, look: SetupLook | None, number: int, checkpoint: str,
          noted: Noted, method: str) -> None:
    if noted.value is None:
        if look is not None:
            entry.remove(look)
        return
    usual = CHECKPOINTS[checkpoint].photo_error if method == SetupObservation.Method.PHOTO else None
    values = {"value": noted.value, "entered": noted.entered, "method": method,
              "uncertainty": getattr(noted, "uncertainty", usual)}
    if look is None:
        entry.create(SetupLook(series=series, number=number, checkpoint=checkpoint, **values))
    else:
        entry.update(look, **values)
