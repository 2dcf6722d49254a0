"""Pages of one student against the smallest view: the lesson with 200 balls, one more ball, progress, private page."""

import json
import uuid
from collections.abc import Iterator
from typing import Any

from .figure import Figure, seconds
from .ground import FLOOR_WHY, lay, opened, queries_of, signed_in
from .rows import a_lesson_of_balls, a_student, thirty_visits


def run() -> Iterator[Figure]:
    """Yield the figures of one run; each floor is taken in turn with what is compared with it."""
    lay()
    student = a_student()
    client = signed_in(student.coach)
    lesson = a_lesson_of_balls(student=student, balls=200)
    floor = opened(client, f"/floor/{student.code}/")
    page = opened(client, f"/lessons/{lesson.code}/")
    ours, least = seconds(page, floor, repeats=15)
    yield Figure(
        what=f"lesson page with 200 balls ({queries_of(page)} queries, {len(page()) // 1000} kB)", ours=ours * 1000,
        floor=least * 1000, unit="ms", limit=4, direction="at most", why=FLOOR_WHY,
    )
    yield _one_ball(client, lesson)
    yield from _progress()


def _one_ball(client: Any, lesson: Any) -> Figure:
    block = lesson.blocks.last()

    def add() -> None:
        answer = client.post(
            f"/blocks/{block.code}/balls/",
            {"key": str(uuid.uuid4()), "carry_m": "212", "club_path_deg": "1.5", "system": "yards"},
            headers={"X-Parts": "1"},
        )
        if answer.status_code != 200:
            raise RuntimeError(f"a ball was answered with {answer.status_code}: {answer.content[:200]!r}")

    ours, least = seconds(
        add, opened(client, f"/floor/{lesson.student.code}/ball/?block={block.code}"), repeats=15
    )
    return Figure(
        what=f"one ball, request to stored and shown ({queries_of(add)} queries)", ours=ours * 1000,
        floor=least * 1000, unit="ms", limit=3, direction="at most",
        why="the smallest view plus one ball inserted in a transaction of its own, synced to disk like ours.",
    )


def _progress() -> Iterator[Figure]:
    from django.db.models import Avg, Count, StdDev

    from lessons.models import Prepared, Shot

    student = thirty_visits(balls_a_visit=100)
    client = signed_in(student.coach)
    page = opened(client, f"/students/{student.code}/progress/")
    small = opened(client, f"/floor/{student.code}/")

    def floor() -> str:
        small()
        rows = Shot.objects.filter(block__lesson__student=student).values("block__lesson", "block").annotate(
            n=Count("pk"), mean=Avg("club_path_deg"), sd=StdDev("club_path_deg"),
        )
        return json.dumps(list(rows))

    anew, _ = seconds(lambda: (Prepared.objects.all().delete(), page()), small, repeats=3)
    ours, least = seconds(page, floor, repeats=9)
    yield Figure(
        what=f"progress page, 30 visits, 3,000 balls ({queries_of(page)} queries; {anew * 1000:.0f} ms on the first "
             "look after a write)", ours=ours * 1000,
        floor=least * 1000, unit="ms", limit=2.5, direction="at most",
        why="the smallest view, one grouped SQL query over the same balls, and its rows as JSON.",
    )
    yield Figure(
        what="progress page, bytes", ours=len(page()) / 1000, floor=60.0, unit="kB", limit=1, direction="at most",
        why="60 kB is what the page may weigh on a slow line.",
    )
    yield from _private(student)


def _private(student: Any) -> Iterator[Figure]:
    from django.test import Client

    from academy.share import issue_link

    phone = Client()
    phone.post(f"/p/{issue_link(student=student, by=student.coach)[1]}/", {"open": "1"})
    page, small = opened(phone, "/me/"), opened(signed_in(student.coach), f"/floor/{student.code}/")
    ours, least = seconds(page, small, repeats=15)
    yield Figure(
        what=f"private page ({queries_of(page)} queries)", ours=ours * 1000, floor=least * 1000, unit="ms", limit=4,
        direction="at most", why=FLOOR_WHY,
    )
    yield Figure(
        what="private page, bytes before anything is opened", ours=len(page()) / 1000, floor=120.0, unit="kB", limit=1,
        direction="at most", why="120 kB is what the page may weigh on a phone.",
    )
