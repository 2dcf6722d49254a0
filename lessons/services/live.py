"""Balls that come by themselves: into the lesson that is running, else into the inbox. None lost, none doubled."""

import uuid
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from django.db import IntegrityError, transaction
from django.db.models import Q
from django.utils import timezone

from academy.journal import Entry, journal
from lessons.api import SentBall
from lessons.imports.gaps import propose_blocks
from lessons.models import Block, DataSource, Lesson, LiveBall, Shot
from metrics.fields import MIRRORED

from .import_blocks import target_for
from .shots import add_balls, as_columns

STORED, THERE, WAITING = "stored", "already there", "waiting"
RUNS_AT_MOST = timedelta(hours=18)
"""A lesson that was begun earlier and never finished takes no balls by itself: they would be somebody else's."""
_TURNED = MIRRORED | {"called_start", "called_curve"}


@dataclass(frozen=True, kw_only=True)
class Taken:
    """What became of one ball."""

    key: uuid.UUID
    state: str


def take(*, source: DataSource, balls: Sequence[SentBall]) -> list[Taken]:
    """Store balls of a source, each key once, and return what became of each. All or none.

    They go into the lesson whose device is this source, or the academy's only running lesson; balls without such
    a lesson, or of a club that is not known here, wait in the inbox.
    """
    try:
        return _take(source, balls)
    except IntegrityError:
        # Another source stored the same key at the same moment; now it is there to be found.
        return _take(source, balls)


@transaction.atomic
def _take(source: DataSource, balls: Sequence[SentBall]) -> list[Taken]:
    source = DataSource.objects.select_for_update().get(pk=source.pk)
    states = _known([ball.key for ball in balls])
    fresh = [ball for ball in balls if ball.key not in states]
    lesson = running_lesson(source=source, now=timezone.now()) if fresh else None
    desk = _desk(lesson)
    fit = [ball for ball in fresh if _fits(ball, lesson, desk)]
    if fit:
        _into_lesson(lesson, source, fit, desk)
    keys = {ball.key for ball in fit}
    _into_inbox(source, [ball for ball in fresh if ball.key not in keys])
    states |= {ball.key: STORED if ball.key in keys else WAITING for ball in fresh}
    return [Taken(key=ball.key, state=states[ball.key]) for ball in balls]


@transaction.atomic
def take_into_inbox(*, source: DataSource, balls: Sequence[SentBall]) -> int:
    """Let balls wait, each key once; return how many are new."""
    known = _known([ball.key for ball in balls])
    fresh = [ball for ball in balls if ball.key not in known]
    _into_inbox(source, fresh)
    return len(fresh)


def running_lesson(*, source: DataSource, now: datetime) -> Lesson | None:
    """Return the lesson that takes a source's balls now, or None where there is none or no telling which."""
    begun = Q(started_at__gte=now - RUNS_AT_MOST) | Q(started_at=None, starts_at__gte=now - RUNS_AT_MOST)
    running = list(
        Lesson.objects.filter(begun, status=Lesson.Status.RUNNING).select_related("student", "device", "venue")[:50]
    )
    own = [lesson for lesson in running if lesson.device_id == source.pk]
    if own:
        return own[0] if len(own) == 1 else None
    return running[0] if len(running) == 1 else None


def players_values(*, values: dict[str, Any], sign: str, left_handed: bool) -> dict[str, Any]:
    """Return numbers and calls with + as the slice side: the door at which a left-hander's are turned round."""
    if sign == "player" or not left_handed:
        return dict(values)
    return {key: -value if key in _TURNED and value is not None else value for key, value in values.items()}


def store_in(
    *, lesson: Lesson, balls: Sequence[dict[str, Any]], clubs: Sequence[tuple[str, str]], entry: Entry,
    by: Any = None,
) -> None:
    """Store rows of balls in a lesson, a block for each stretch of one club, as part of a change."""
    stretches = propose_blocks([club for club, _ in clubs], [category for _, category in clubs], None)
    targets: list = []
    for stretch in stretches:
        target = target_for(lesson=lesson, stretch=stretch, wanted="", before=targets, source="device")
        if target.is_new:
            entry.insert(target.block)
        targets.append(target)
        add_balls(
            by=by, block=target.block, columns=as_columns(balls[stretch.start:stretch.stop]), source="device",
            entry=entry,
        )


def row_of(
    *, key: uuid.UUID, numbers: dict[str, float], calls: dict[str, Any], hit_at: datetime, raw: str, sign: str,
    lesson: Lesson, provenance: str,
) -> dict[str, Any]:
    """Return a ball as a row of Shot."""
    values = players_values(values={**numbers, **calls}, sign=sign, left_handed=lesson.student.left_handed)
    carry = {"carry_provenance": provenance} if "carry_m" in numbers else {}
    return {**values, **carry, "key": key, "hit_at": hit_at, "raw": raw}


def _known(keys: Iterable[uuid.UUID]) -> dict[uuid.UUID, str]:
    keys = list(keys)
    found = dict.fromkeys(Shot.objects.filter(key__in=keys).values_list("key", flat=True), THERE)
    for ball in LiveBall.objects.filter(key__in=keys).only("key", "shot", "removed_at"):
        found[ball.key] = THERE if ball.shot_id or ball.removed_at else WAITING
    return found


def _desk(lesson: Lesson | None) -> Block | None:
    if lesson is None:
        return None
    # Taking turns on the lesson: two messages never open one block twice, and rows come into view in order.
    Lesson.objects.select_for_update().only("pk").get(pk=lesson.pk)
    return Block.objects.filter(lesson=lesson, removed_at__isnull=True).order_by("position").last()


def _fits(ball: SentBall, lesson: Lesson | None, desk: Block | None) -> bool:
    """Say whether it is known where in the lesson a ball belongs."""
    return lesson is not None and bool(ball.category or (not ball.club and desk))


def _into_lesson(lesson: Lesson, source: DataSource, balls: list[SentBall], desk: Block | None) -> None:
    clubs = [(ball.club, ball.category) if ball.category else (desk.club_name, desk.category) for ball in balls]
    now = timezone.now()
    rows = [
        row_of(
            key=ball.key, numbers=ball.numbers, calls=ball.calls, raw=ball.raw, sign=source.file_sign, lesson=lesson,
            hit_at=ball.hit_at or now + timedelta(milliseconds=place), provenance=source.carry_provenance,
        )
        for place, ball in enumerate(balls)
    ]
    count = f"{len(balls)} ball{'s' if len(balls) > 1 else ''}"
    with journal(
        by=None, student=lesson.student, lesson_code=lesson.code, sentence=f"{count} came from {source.name}"
    ) as entry:
        if lesson.device_id is None:
            entry.update(lesson, device=source)
        store_in(lesson=lesson, balls=rows, clubs=clubs, entry=entry)


def _into_inbox(source: DataSource, balls: list[SentBall]) -> None:
    now = timezone.now()
    LiveBall.objects.bulk_create([
        LiveBall(
            data_source=source, key=ball.key, hit_at=ball.hit_at or now + timedelta(milliseconds=place),
            club_name=ball.club, category=ball.category, numbers=ball.numbers, calls=ball.calls,
            sign=source.file_sign, raw=ball.raw, source="device",
        )
        for place, ball in enumerate(balls)
    ])
