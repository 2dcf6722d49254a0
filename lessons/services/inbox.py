"""Balls that wait: into a lesson, away, and back again. Each is one change that can be taken back."""

import uuid
from collections.abc import Sequence

from django.core.exceptions import ValidationError
from django.db import transaction

from academy.journal import journal
from academy.models import Coach
from lessons.models import Block, Lesson, LiveBall, Shot

from .live import row_of, store_in
from .shots import add_balls, as_columns


@transaction.atomic
def assign(*, by: Coach, balls: Sequence[LiveBall], lesson: Lesson, block: Block | None = None) -> int:
    """Put waiting balls into a lesson, into one block or into a block for each club; return how many.

    Balls that somebody else has assigned or discarded meanwhile are left alone. Raises ValidationError where a
    club is not known and no block was chosen.
    """
    balls = _still_waiting(balls)
    unknown = sorted({ball.club_name or "no club" for ball in balls if not ball.category})
    if block is None and unknown:
        raise ValidationError(f"It is not known what club “{', '.join(unknown)}” is: choose a block for these balls.")
    if not balls:
        return 0
    # The sender's key stays with the waiting ball, so that assigning again after an undo makes a new ball.
    keys = [uuid.uuid4() for _ in balls]
    rows = [
        row_of(
            key=key, numbers=ball.numbers, calls=ball.calls, hit_at=ball.hit_at, raw=ball.raw, sign=ball.sign,
            lesson=lesson, provenance=ball.data_source.carry_provenance,
        )
        for key, ball in zip(keys, balls, strict=True)
    ]
    sentence = f"{len(balls)} ball{'s' if len(balls) > 1 else ''} taken from the inbox"
    with journal(by=by, student=lesson.student, lesson_code=lesson.code, sentence=sentence) as entry:
        if block is not None:
            add_balls(by=by, block=block, columns=as_columns(rows), source="device", entry=entry)
        else:
            clubs = [(ball.club_name, ball.category) for ball in balls]
            store_in(lesson=lesson, balls=rows, clubs=clubs, entry=entry, by=by)
        stored = Shot.objects.in_bulk(keys, field_name="key")
        for key, ball in zip(keys, balls, strict=True):
            entry.update(ball, shot=stored[key])
    return len(balls)


@transaction.atomic
def discard(*, by: Coach, balls: Sequence[LiveBall]) -> int:
    """Take waiting balls out of the inbox; they stay in the database and can be put back."""
    balls = _still_waiting(balls)
    with journal(by=by, sentence=f"{len(balls)} balls of the inbox discarded") as entry:
        for ball in balls:
            entry.remove(ball)
    return len(balls)


@transaction.atomic
def put_back(*, by: Coach, balls: Sequence[LiveBall]) -> int:
    """Let discarded balls wait again."""
    keys = [ball.pk for ball in balls]
    gone = list(LiveBall.objects.select_for_update().filter(pk__in=keys, removed_at__isnull=False))
    with journal(by=by, sentence=f"{len(gone)} balls put back into the inbox") as entry:
        for ball in gone:
            entry.update(ball, removed_at=None)
    return len(gone)


def _still_waiting(balls: Sequence[LiveBall]) -> list[LiveBall]:
    keys = [ball.pk for ball in balls]
    return list(
        LiveBall.objects.select_for_update(of=("self",)).select_related("data_source")
        .filter(pk__in=keys, shot__isnull=True, removed_at__isnull=True).order_by("hit_at", "pk")
    )
