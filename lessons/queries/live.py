"""Reading what came in by itself: the balls new on a page, what waits, where it may go."""

from datetime import datetime, timedelta
from typing import Any
from urllib.parse import urlencode

from django.db.models import Count, Exists, F, Q, QuerySet
from django.utils import timezone

from academy.models import Coach
from lessons.models import Block, DataSource, Lesson, LiveBall
from lessons.queries.lesson import blocks_of
from lessons.queries.stamp import mark_of

FAST, BESIDE, SLOW = 0.5, 3, 15
"""Seconds between two questions of an open page: while balls may come by themselves, while another device may be at
work on the same lesson, and once it is over."""
WATCHED = timedelta(seconds=90)
"""A folder that was looked at within this time is being watched."""
RECENT = timedelta(days=2)
MOST_BALLS = 300


def attached(*, lesson: Lesson, now: datetime) -> tuple[bool, bool]:
    """Say whether balls may come into this lesson by themselves, and whether another running lesson has the same
    device, so that nobody can tell whose they are and they wait in the inbox. One query."""
    sends = ~Q(token_digest="") & Q(token_revoked_at=None) | Q(seen_at__gte=now - WATCHED)
    others = Lesson.objects.filter(status=Lesson.Status.RUNNING).exclude(pk=lesson.pk)
    mine = Q(pk=lesson.device_id) | ~Q(Exists(others))
    shared = Exists(others.filter(device__isnull=False, device=lesson.device_id))
    found = DataSource.objects.filter(sends, mine).annotate(shared=shared).values_list("shared", flat=True).first()
    if found is None or lesson.status != Lesson.Status.RUNNING:
        return False, False
    return not found, bool(found)


def state_of(*, lesson: Lesson, now: datetime) -> dict[str, Any]:
    """Return what an open page has to know to tell whether anything is new, and how often it asks. Three queries."""
    comes, shared = attached(lesson=lesson, now=now)
    running = lesson.status == Lesson.Status.RUNNING
    return {
        "comes": comes, "shared": shared, "every": FAST if comes else BESIDE if running else SLOW,
        "mark": mark_of(lesson), "waiting": waiting_balls().count(),
    }


def fresh_state(mark: str) -> dict[str, Any]:
    """Return what a page knows that was just drawn: it asks for the rest at once. No query."""
    return {"comes": False, "shared": False, "every": FAST, "mark": mark, "waiting": ""}


def live_context(*, lesson: Lesson, block: Block, state: dict[str, Any], all_balls: bool) -> dict[str, Any]:
    """Return what the part of the page shows that asks; blocks opened after this one are told. No query where the
    lesson's blocks are read."""
    knows = {"block": block.code, "mark": state["mark"], "waiting": state["waiting"], "every": state["every"]}
    later = [other for other in blocks_of(lesson) if other.position > block.position]
    return {**state, "later": later, "knows": urlencode({**knows, **({"balls": "all"} if all_balls else {})})}


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
    return list(DataSource.objects.select_related("created_by").annotate(waits=waits))


def ball_lines(balls: list[LiveBall]) -> list[dict[str, Any]]:
    """Return waiting balls as the page shows them. No query."""
    return [
        {
            "ball": ball, "numbers": [(key, value) for key, value in ball.numbers.items()],
            "calls": ", ".join(f"{name.removeprefix('called_')} {value}" for name, value in ball.calls.items()),
        }
        for ball in balls
    ]
