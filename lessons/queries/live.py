"""Reading what came in by itself: the balls new on a page, what waits, where it may go."""

from datetime import datetime, timedelta
from typing import Any
from uuid import UUID

from django.db.models import Count, Exists, F, Q, QuerySet
from django.utils import timezone

from academy.models import Coach
from academy.models.base import Source
from lessons.models import Block, DataSource, Lesson, LiveBall, Shot

WATCHED = timedelta(seconds=90)
"""A folder that was looked at within this time is being watched."""
RECENT = timedelta(days=2)
MOST_BALLS = 300


def attached(*, lesson: Lesson, now: datetime) -> bool:
    """Say whether balls may come into this lesson by themselves. One query."""
    sends = ~Q(token_digest="") & Q(token_revoked_at=None) | Q(seen_at__gte=now - WATCHED)
    others = Lesson.objects.filter(status=Lesson.Status.RUNNING).exclude(pk=lesson.pk)
    mine = Q(pk=lesson.device_id) | ~Q(Exists(others))
    return DataSource.objects.filter(sends, mine).exists() and lesson.status == Lesson.Status.RUNNING


def came_in(*, lesson: Lesson, after: UUID | None) -> list[Shot]:
    """Return the balls of a lesson that came by themselves after a ball, oldest first. One query."""
    rows = Shot.objects.present().filter(
        block__lesson=lesson, block__removed_at=None, source__in=(Source.DEVICE, Source.FILE)
    )
    if after is not None:
        rows = rows.filter(pk__gt=Shot.objects.filter(key=after).values("pk"))
    return list(rows.select_related("block").order_by("pk")[:400])


def block_shown(*, lesson: Lesson, code: UUID | None) -> Block | None:
    """Return the block that a page shows: the one it names, else the newest. One query."""
    present = Block.objects.filter(lesson=lesson, removed_at=None)
    return (present.filter(code=code) if code else present.order_by("-position")).first()


def later_blocks(*, lesson: Lesson, block: Block) -> list[Block]:
    """Return the blocks opened after one, which a page that shows it does not know yet. One query."""
    return list(Block.objects.filter(lesson=lesson, removed_at=None, position__gt=block.position).order_by("position"))


def waiting_balls() -> QuerySet:
    """Return the balls that wait; a query not yet made."""
    return LiveBall.objects.filter(shot=None, removed_at=None).select_related("data_source")


def discarded_balls(*, now: datetime) -> QuerySet:
    """Return the balls discarded lately; a query not yet made."""
    return LiveBall.objects.filter(removed_at__gte=now - timedelta(days=7)).select_related("data_source")


def places(*, now: datetime, coach: Coach) -> list[tuple[str, Lesson, Block | None]]:
    """Return where a coach's waiting balls may go: own lessons of the last days, each with its blocks. Two queries."""
    lessons = list(
        Lesson.objects.filter(
            Q(student__coach=coach) | Q(coach=coach), starts_at__gte=now - RECENT,
            status__in=(Lesson.Status.RUNNING, Lesson.Status.FINISHED),
        ).select_related("student").order_by(F("status").desc(), "-starts_at")[:20]
    )
    blocks = list(Block.objects.filter(lesson__in=lessons, removed_at=None).order_by("position"))
    found: list[tuple[str, Lesson, Block | None]] = []
    for lesson in lessons:
        start = timezone.localtime(lesson.starts_at)
        name = f"{lesson.student.name}, {start:%-d %B %H:%M}"
        found.append((f"{name}: a block for each club", lesson, None))
        for block in blocks:
            if block.lesson_id == lesson.pk:
                block.lesson = lesson
                found.append((f"{name}: block {block.position}, {block.club_name}", lesson, block))
    return found


def sources() -> list[DataSource]:
    """Return every source with how many of its balls wait. One query."""
    waits = Count("live_balls", filter=Q(live_balls__shot=None, live_balls__removed_at=None))
    return list(DataSource.objects.annotate(waits=waits))


def ball_lines(balls: list[LiveBall]) -> list[dict[str, Any]]:
    """Return waiting balls as the page shows them. No query."""
    return [
        {
            "ball": ball, "numbers": [(key, value) for key, value in ball.numbers.items()],
            "calls": ", ".join(f"{name.removeprefix('called_')} {value}" for name, value in ball.calls.items()),
        }
        for ball in balls
    ]
