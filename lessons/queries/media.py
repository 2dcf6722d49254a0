"""Kept pictures and clips as before-and-after pairs: the same angle, the same club, aids said.

Other pages show them with ``templates/lessons/media/_pairs.html``. What may not be looked at today is not returned.
"""

from dataclasses import dataclass
from datetime import date, datetime

from django.db.models import QuerySet
from django.utils import timezone

from academy.models import Student
from lessons.media.allowed import allowed_for
from lessons.models import Attachment, Lesson

MOST_PAIRS = 6


@dataclass(frozen=True, kw_only=True)
class Shown:
    """One half of a pair. ``code`` stands in the address of its file; ``frame_s`` is how long a frame lasts."""

    code: str
    is_clip: bool
    when: datetime
    phase: str
    aids: tuple[str, ...]
    width_px: int
    height_px: int
    frame_s: float
    delete_on: date
    words: str


@dataclass(frozen=True, kw_only=True)
class Pair:
    """Before and after of one angle and club; one half may be missing."""

    angle: str
    club: str
    before: Shown | None
    after: Shown | None

    @property
    def whole(self) -> bool:
        return self.before is not None and self.after is not None

    @property
    def are_clips(self) -> bool:
        return self.before is not None and self.after is not None and self.before.is_clip and self.after.is_clip

    @property
    def halves(self) -> list[Shown]:
        return [half for half in (self.before, self.after) if half is not None]

    @property
    def aids_differ(self) -> bool:
        """The pair compares two different things: one with aids, one without."""
        return self.whole and bool(self.before.aids) != bool(self.after.aids)


def pairs_of_lesson(*, lesson: Lesson) -> list[Pair]:
    """Return the pairs of one lesson; where it has only an "after", the newest earlier picture of the same angle and
    club stands before it. Three queries; none of the files is read."""
    rows = _shown(lesson.student, _kept(lesson.student).filter(lesson__starts_at__lte=lesson.starts_at))
    return _pairs([row for row in rows if row.lesson_id != lesson.pk],
                  [row for row in rows if row.lesson_id == lesson.pk])


def newest_pairs(*, student: Student, most: int = MOST_PAIRS) -> list[Pair]:
    """Return the newest pair of each angle and club, newest first, for the student's own page and record.
    Three queries."""
    rows = _shown(student, _kept(student))
    found = []
    for angle, category in dict.fromkeys((row.angle, row.category) for row in reversed(rows)):
        same = [row for row in rows if (row.angle, row.category) == (angle, category)]
        newest = [row for row in same if row.lesson_id == same[-1].lesson_id]
        found += _pairs([row for row in same if row.lesson_id != same[-1].lesson_id], newest)
    return found[:most]


def may_look(*, student: Student) -> bool:
    """Say whether the student's kept pictures may be looked at today. Two queries."""
    return allowed_for(student=student, day=timezone.localdate()).show


def _kept(student: Student) -> QuerySet:
    rows = Attachment.objects.filter(
        lesson__student=student, removed_at__isnull=True, delete_on__gt=timezone.localdate())
    return rows.select_related("lesson").order_by("lesson__starts_at", "pk")


def _shown(student: Student, rows: QuerySet) -> list[Attachment]:
    found = list(rows)
    return found if found and may_look(student=student) else []


def _pairs(earlier: list[Attachment], here: list[Attachment]) -> list[Pair]:
    found = []
    for angle, category in dict.fromkeys((row.angle, row.category) for row in here):
        same = [row for row in here if (row.angle, row.category) == (angle, category)]
        old = [row for row in earlier if (row.angle, row.category) == (angle, category)]
        halves = {row.phase: row for row in same}  # the newest of each phase
        before, after = halves.get("before"), halves.get("after")
        if before is None and old:
            before = old[-1]
        found.append(Pair(
            angle=same[-1].get_angle_display(), club=same[-1].club_name,
            before=_half(before) if before else None, after=_half(after) if after else None,
        ))
    return found


def _half(row: Attachment) -> Shown:
    aids = tuple(row.aid_labels)
    kind, with_aids = ("Clip" if row.is_clip else "Picture"), ", ".join(aids).lower() if aids else "no aids"
    return Shown(
        code=str(row.code), is_clip=row.is_clip, when=row.lesson.starts_at, phase=row.get_phase_display(), aids=aids,
        width_px=row.width_px, height_px=row.height_px, frame_s=1 / row.frame_rate if row.frame_rate else 1 / 30,
        delete_on=row.delete_on,
        words=f"{kind} {row.get_angle_display().lower()}, {row.club_name}, {row.get_phase_display()}, {with_aids}",
    )
