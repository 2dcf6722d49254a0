"""Visits for the tests of the progress page: balls with an exact mean and spread, both hands."""

import re
from datetime import datetime, timedelta

import numpy as np
from django.urls import reverse
from django.utils import timezone

from lessons.models import Block, Finding, Lesson, Prescription
from tests import factories


def balls(mean: float, sd: float, n: int) -> list[float]:
    """``n`` balls with this mean and sample SD, in no order that could be taken for a trend."""
    x = np.random.default_rng([n, 7]).normal(size=n)
    x = (x - x.mean()) / (x.std(ddof=1) if n > 1 else 1)
    return [float(v) for v in mean + sd * x]


def visit(student, *, days_ago: float, **lesson) -> Lesson:
    """One finished visit, counted back from noon, so that the hour of the test makes no other day of it."""
    noon: datetime = timezone.localtime().replace(hour=12, minute=0, second=0, microsecond=0)
    whole = {"status": Lesson.Status.FINISHED, "starts_at": noon - timedelta(days=days_ago), **lesson}
    return Lesson.objects.create(student=student, coach=student.coach, **whole)


def block(lesson: Lesson, *, mean: float | None = None, sd: float = 1.8, n: int = 10, purpose: str = "first_ten",
          aids=(), columns=None, **values) -> Block:
    """One block of a visit; ``columns`` holds other numbers than the path, ready made."""
    whole = {"intent": "draw", "feedback_shown": False, **values}
    made = factories.make_block(lesson=lesson, purpose=purpose, aids=list(aids), **whole)
    if mean is not None:
        columns = {"club_path_deg": balls(mean, sd, n), **(columns or {})}
    if columns:
        factories.add_balls(block=made, **columns)
    made.lesson = lesson
    return made


def prescribe(made: Block, *, pattern: str = "over_draw", **values) -> Prescription:
    """The change that answers a block's finding."""
    finding = Finding.objects.create(lesson=made.lesson, block=made, pattern=pattern, title="Out", state="hint")
    whole = {"change": "Feet from 7° closed to 3° closed", "checkpoint": "feet_deg", **values}
    return Prescription.objects.create(lesson=made.lesson, finding=finding, **whole)


def text_of(client, student, **asked) -> str:
    """What the progress page says, tags and line breaks taken away."""
    answer = client.get(reverse("lessons:progress", args=[student.code]), asked)
    assert answer.status_code == 200, answer.status_code
    body = answer.content.decode().split("<main", 1)[1].split("</main>", 1)[0]
    plain = re.sub(r"<svg.*?</svg>", " ", body, flags=re.S)
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", plain)).replace("&#x27;", "'")
