"""Where each club of a bag starts the ball: what the question of the club's fit is asked of. Summaries only."""

import math
from collections import defaultdict
from datetime import timedelta
from typing import Any

from metrics.rules.types import ClubStart

from .models import Block

LOOK_BACK_DAYS = 90
LOFTED = ("hybrid_long_iron", "mid_iron", "short_iron", "wedge_full")
"""Clubs whose lie shows in the start line: a driver's loft is too small for it."""


def club_starts(block: Block) -> tuple[ClubStart, ...]:
    """Return the start of every club with a known loft over the last 90 days, this visit with it. One query at most.

    Asked only for a club of the bag whose loft is known: without it a start that grows with loft cannot be seen.
    Blocks with aids do not count.
    """
    if block.category not in LOFTED or block.club is None or block.club.loft_deg is None:
        return ()
    lesson = block.lesson
    rows = Block.objects.filter(
        club__student_id=lesson.student_id, club__loft_deg__isnull=False, category__in=LOFTED, aids=[],
        removed_at__isnull=True, lesson__starts_at__lte=lesson.starts_at,
        lesson__starts_at__gte=lesson.starts_at - timedelta(days=LOOK_BACK_DAYS),
    ).order_by("pk").values_list("club_id", "club__loft_deg", "summary")
    seen: dict[tuple[int, float], list[dict[str, Any]]] = defaultdict(list)
    for club, loft, summary in rows:
        numbers = (summary or {}).get("numbers_struck", {}).get("launch_direction_deg", {})
        if numbers.get("sd") is not None:
            seen[club, loft].append(numbers)
    return tuple(_pooled(loft, blocks) for (_, loft), blocks in seen.items())


def _pooled(loft_deg: float, blocks: list[dict[str, Any]]) -> ClubStart:
    """One club's blocks together: the mean of all balls, and the spread within the blocks."""
    n = sum(numbers["n"] for numbers in blocks)
    mean = sum(numbers["n"] * numbers["mean"] for numbers in blocks) / n
    within = sum((numbers["n"] - 1) * numbers["sd"] ** 2 for numbers in blocks) / (n - len(blocks))
    return ClubStart(loft_deg=loft_deg, mean_deg=mean, sd_deg=math.sqrt(within), n=n)
