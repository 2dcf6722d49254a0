"""What the lines of a lesson rest on, in one short stamp: while it stays, they stay."""

import hashlib
from dataclasses import dataclass
from typing import Any

from django.db.models import Count, Max, Model, Q
from django.utils import timezone

from academy.models import Change
from lessons.models import Lesson
from lessons.queries.lesson import blocks_of


@dataclass(frozen=True, kw_only=True)
class Stamp:
    """``whole`` stands for everything a line of the lesson could say, ``mark`` for how far the lesson's own history
    has gone; an open page asks whether it still stands there."""

    whole: str
    mark: str


def stamp_of(lesson: Lesson) -> Stamp:
    """Return what changes when something is written that a line could say. One query beyond the blocks.

    That is the lesson, its student, its blocks with their balls; and the journal of the student and of the academy,
    where everything else stands that a coach writes; taking back counts too. Who reads, because not everybody is told
    of the student's health; the day, because some words hold for it.
    """
    here = Q(lesson_code=lesson.code)
    journal = Change.objects.filter(Q(student=lesson.student_id) | Q(student=None) | here).aggregate(
        newest=Max("pk"), taken_back=Count("undone_at"),
        newest_here=Max("pk", filter=here), taken_back_here=Count("undone_at", filter=here),
    )
    blocks = [
        (block.pk, block.position, block.purpose, block.category, block.intent, block.aids, block.club_id,
         block.summary_version, block.summary.get("balls"))
        for block in blocks_of(lesson)
    ]
    reader = lesson.reader.pk if lesson.reader else None
    whole = (_row(lesson), _row(lesson.student), reader, blocks, journal, timezone.localdate())
    return Stamp(
        whole=hashlib.sha256(repr(whole).encode()).hexdigest(),
        mark=_mark(journal["newest_here"], journal["taken_back_here"]),
    )


def mark_of(lesson: Lesson) -> str:
    """Return the mark alone. One query."""
    found = Change.objects.filter(lesson_code=lesson.code).aggregate(newest=Max("pk"), taken_back=Count("undone_at"))
    return _mark(found["newest"], found["taken_back"])


def _mark(newest: int | None, taken_back: int) -> str:
    return f"{newest or 0}.{taken_back}"


def _row(row: Model) -> list[Any]:
    return [getattr(row, field.attname) for field in row._meta.concrete_fields]
