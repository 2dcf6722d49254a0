"""What a player's own record adds to the rules: usual values, and how numbers answered to earlier changes.

Read from block summaries and setup observations; no ball is read.
"""

from collections import defaultdict
from datetime import timedelta
from statistics import median
from typing import Any

from metrics.fields import FIELDS
from metrics.rules.types import Response

from .models import Block, Lesson, SetupObservation

LOOK_BACK_DAYS = 90
FEWEST_BALLS = 5
FEWEST_BLOCKS = 2
ANSWERING = ("club_path_deg", "attack_angle_deg", "face_angle_deg", "launch_direction_deg")
"""The numbers that setup changes are known to move; see fixtures/library/setup_effects.json."""


def earlier_blocks(*, lesson: Lesson, category: str) -> list[Block]:
    """Return the blocks with a kind of club at finished lessons of the last 90 days, oldest first. One query."""
    return list(
        Block.objects.filter(
            lesson__student_id=lesson.student_id, lesson__status=Lesson.Status.FINISHED, category=category,
            lesson__starts_at__lt=lesson.starts_at, removed_at__isnull=True,
            lesson__starts_at__gte=lesson.starts_at - timedelta(days=LOOK_BACK_DAYS),
        ).order_by("lesson__starts_at", "position").only(
            "lesson_id", "position", "aids", "purpose", "summary", "category", "club_id", "intent")
    )


def own_medians(blocks: list[Block]) -> dict[str, float]:
    """Return the usual value of each number: the median of the blocks' medians. Blocks with aids do not count."""
    seen: dict[str, list[float]] = defaultdict(list)
    for block in blocks:
        for key, numbers in ({} if block.aids else _numbers(block)).items():
            if numbers.get("n", 0) >= FEWEST_BALLS and numbers.get("median") is not None:
                seen[key].append(numbers["median"])
    return {key: median(values) for key, values in seen.items() if key in FIELDS and len(values) >= FEWEST_BLOCKS}


def own_responses(*, blocks: list[Block], category: str) -> tuple[Response, ...]:
    """Return how much each number moved per unit of a checkpoint, once for each earlier visit. One query.

    The visit's first block without aids is before, its last one without aids after, balls of getting used to it left
    out; only visits in which exactly one checkpoint was moved count, because otherwise nobody can say which one did
    it.
    """
    by_lesson: dict[int, list[Block]] = defaultdict(list)
    for block in blocks:
        if not block.aids and block.purpose != Block.Purpose.ADAPT:
            by_lesson[block.lesson_id].append(block)
    moved = moved_at(list(by_lesson), category)
    found: dict[tuple[str, str], list[float]] = defaultdict(list)
    for key, plain in by_lesson.items():
        if len(plain) < 2 or len(moved.get(key, {})) != 1:
            continue
        (checkpoint, distance), = moved[key].items()
        for quantity in ANSWERING:
            first, last = (_mean(block, quantity) for block in (plain[0], plain[-1]))
            if first is not None and last is not None:
                found[checkpoint, quantity].append((last - first) / distance)
    return tuple(
        Response(checkpoint=checkpoint, quantity=quantity, per_unit=tuple(values))
        for (checkpoint, quantity), values in found.items()
    )


def moved_at(lessons: list[int], category: str) -> dict[int, dict[str, float]]:
    """Return how far each checkpoint was moved at each lesson; what stayed is left out. One query."""
    rows = SetupObservation.objects.filter(
        lesson_id__in=lessons, category=category, removed_at__isnull=True
    ).order_by("pk").values_list("lesson_id", "checkpoint", "phase", "value")
    latest: dict[tuple[int, str], dict[str, float]] = defaultdict(dict)
    for lesson, checkpoint, phase, value in rows:
        latest[lesson, checkpoint][phase] = value
    moved: dict[int, dict[str, float]] = defaultdict(dict)
    for (lesson, checkpoint), phases in latest.items():
        distance = phases.get("after", 0.0) - phases.get("before", 0.0)
        if len(phases) == 2 and distance:
            moved[lesson][checkpoint] = distance
    return moved


def _numbers(block: Block) -> dict[str, Any]:
    return (block.summary or {}).get("numbers_struck", {})


def _mean(block: Block, quantity: str) -> float | None:
    numbers = _numbers(block).get(quantity, {})
    return numbers.get("mean") if numbers.get("n", 0) >= FEWEST_BALLS else None
