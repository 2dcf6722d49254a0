"""What became of a lesson afterwards: given within a day, read, practised, asked, answered.

Facts only; what to do about them is for the pages that show them. "Read" is the first visit of the private page
after the lesson: no pixels, no third party.
"""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.utils import timezone

from academy.models import Coach, ShareLink, Student
from lessons.models import FollowUp, Lesson, PracticeEntry, StudentMessage

IN_TIME = timedelta(hours=24)
READ_AFTER = timedelta(days=3)
TICKED_AFTER = timedelta(days=7)
LOOK_BACK = timedelta(days=21)
"""Common practice, no source: a sheet is given within a day; older lessons than three weeks are past chasing."""


@dataclass(frozen=True, kw_only=True)
class Facts:
    """One finished lesson. ``given_at`` is None while nobody has the sheet or a working private page."""

    lesson: Lesson
    given_at: datetime | None
    read_at: datetime | None
    ticked: int
    open_questions: int

    @property
    def in_time(self) -> bool:
        """Whether it was given within a day."""
        return self.given_at is not None and self.given_at - _end(self.lesson) <= IN_TIME

    def waits(self, now: datetime) -> str:
        """Say what waits, the first thing only; empty where nothing does."""
        since = now - _end(self.lesson)
        if self.given_at is None:
            return "The sheet is not given yet." if since <= IN_TIME else "The sheet is not given, and a day is over."
        if self.read_at is None and now - self.given_at > READ_AFTER:
            return f"Given on {timezone.localtime(self.given_at):%-d %B}, the page not read since."
        if not self.ticked and since > TICKED_AFTER:
            return "No practice ticked since."
        return ""


def facts_of(*, lessons: Iterable[Lesson]) -> dict[int, Facts]:
    """Return lesson number -> facts. Four queries, however many lessons there are."""
    lessons = list(lessons)
    students = {lesson.student_id for lesson in lessons}
    sheets: dict[int, list[FollowUp]] = {}
    for row in FollowUp.objects.filter(lesson__in=lessons).order_by("sent_at"):
        sheets.setdefault(row.lesson_id, []).append(row)
    links: dict[int, list[ShareLink]] = {}
    for link in ShareLink.objects.filter(student__in=students).order_by("created_at"):
        links.setdefault(link.student_id, []).append(link)
    practised: dict[int, list[datetime]] = {}
    for who, when in PracticeEntry.objects.filter(student__in=students).values_list("student_id", "practised_at"):
        practised.setdefault(who, []).append(when)
    asked = Counter(StudentMessage.objects.filter(
        student__in=students, answered_at__isnull=True).values_list("student_id", flat=True))
    return {
        lesson.pk: Facts(
            lesson=lesson, given_at=_given(lesson, sheets.get(lesson.pk, []), links.get(lesson.student_id, [])),
            read_at=min((row.opened_at for row in sheets.get(lesson.pk, []) if row.opened_at), default=None),
            ticked=sum(when > _end(lesson) for when in practised.get(lesson.student_id, [])),
            open_questions=asked[lesson.student_id],
        )
        for lesson in lessons
    }


def waiting_after(*, coach: Coach, now: datetime) -> list[tuple[Facts, str]]:
    """Return what waits after the last lesson of each of the coach's students, oldest lesson first. Five queries."""
    rows = Lesson.objects.filter(
        student__coach=coach, status=Lesson.Status.FINISHED, starts_at__gte=now - LOOK_BACK, starts_at__lt=now,
        kind__in=[Lesson.Kind.LESSON, Lesson.Kind.COURSE],
    ).exclude(student__status=Student.Status.LEFT).select_related("student")
    last = {lesson.student_id: lesson for lesson in rows.order_by("starts_at")}
    told = [(facts, facts.waits(now)) for facts in facts_of(lessons=last.values()).values()]
    return sorted((line for line in told if line[1]), key=lambda line: line[0].lesson.starts_at)


def _given(lesson: Lesson, sheets: list[FollowUp], links: list[ShareLink]) -> datetime | None:
    """Return when the student had it: mailed, copied, or kept for a page that a link opened then or opens later.

    A finished lesson stands on the private page at once, so what counts there is the first link that worked at
    or after the finish.
    """
    moments = [row.sent_at for row in sheets if row.channel != FollowUp.Channel.LINK]
    kept = next((row.sent_at for row in sheets if row.channel == FollowUp.Channel.LINK), None)
    if kept is not None:
        moments += [max(kept, link.created_at) for link in links if _works_after(link, kept)]
    return min(moments, default=None)


def _works_after(link: ShareLink, moment: datetime) -> bool:
    end = min(filter(None, (link.expires_at, link.revoked_at)))
    return end > max(moment, link.created_at)


def _end(lesson: Lesson) -> datetime:
    return lesson.finished_at or lesson.starts_at + timedelta(minutes=lesson.minutes)
