"""Balls of a file that are here already, and balls that a second device saw too."""

from dataclasses import dataclass

import numpy as np
from django.utils import timezone

from academy.journal import Entry
from lessons.frames import BlockShots, shots_of
from lessons.imports.duplicates import find_overlap
from lessons.imports.pairing import pair_devices
from lessons.imports.parse import Parsed
from lessons.models import Block, Lesson, Shot
from lessons.summaries import refresh
from metrics.fields import FIELDS

MOST_BLOCKS = 400
"""The newest blocks of the student that a file is compared with."""


def overlap_with_stored(*, lesson: Lesson, parsed: Parsed) -> tuple[np.ndarray, str]:
    """Return for each new ball the index of the stored one or −1, and the overlap in words. Two queries."""
    blocks = list(
        Block.objects.filter(
            lesson__student=lesson.student, category__in=set(parsed.categories), removed_at__isnull=True
        ).order_by("-pk")[:MOST_BLOCKS]
    )
    by_block = shots_of(blocks, with_clock=parsed.when is not None)
    stored = [(block.category, by_block[block.pk]) for block in blocks if by_block[block.pk].count]
    counts = [shots.count for _, shots in stored]
    clubs = [category for category, shots in stored for _ in range(shots.count)]
    overlap = find_overlap(
        parsed.shots, _joined([shots for _, shots in stored], counts),
        new_clubs=list(parsed.categories), stored_clubs=clubs, new_when=parsed.when,
        stored_when=_clock([shots for _, shots in stored]) if parsed.when is not None else None,
    )
    return overlap.match, overlap.sentence()


@dataclass(frozen=True, kw_only=True)
class Completion:
    """What a second device knows of stored balls: each ball with the numbers it does not have yet, the blocks that
    hold them, and the indexes of the new balls that are nobody's yet."""

    balls: tuple[tuple[Shot, dict[str, float]], ...]
    blocks: tuple[Block, ...]
    fresh: np.ndarray


def second_device(*, lesson: Lesson, parsed: Parsed) -> Completion:
    """Return which stored balls of this lesson a second device saw too. Two queries, a third where there are any.

    Only quantities that a ball does not have yet are filled in; what both measured stays as it was.
    """
    nobody = Completion(balls=(), blocks=(), fresh=np.arange(parsed.balls))
    blocks = list(Block.objects.filter(
        lesson=lesson, category__in=set(parsed.categories), removed_at__isnull=True
    ).order_by("position"))
    by_block = shots_of(blocks)
    stored = [by_block[block.pk] for block in blocks if by_block[block.pk].count]
    if not stored:
        return nobody
    pairing = pair_devices(_joined(stored, [shots.count for shots in stored]), parsed.shots)
    if not pairing.same:
        return nobody
    keys = [key for shots in stored for key in shots.keys]
    rows = Shot.objects.in_bulk(keys)
    paired = ((rows[keys[index]], place) for place, index in enumerate(pairing.match.tolist()) if index >= 0)
    balls = ((shot, _missing(shot, parsed, place)) for shot, place in paired)
    return Completion(
        balls=tuple((shot, numbers) for shot, numbers in balls if numbers), blocks=tuple(blocks),
        fresh=np.flatnonzero(pairing.match < 0),
    )


def complete(completion: Completion, entry: Entry) -> None:
    """Store what a second device knows of balls that are here."""
    for shot, numbers in completion.balls:
        entry.update(shot, **numbers)
    for block in completion.blocks:
        refresh(block)


def _missing(shot: Shot, parsed: Parsed, place: int) -> dict[str, float]:
    return {
        key: float(values[place]) for key, values in parsed.shots.items()
        if getattr(shot, key) is None and np.isfinite(values[place])
    }


def _joined(groups: list[BlockShots], counts: list[int]) -> dict[str, np.ndarray]:
    """Return the balls of several blocks as one row of balls, NaN where a block lacks a quantity."""
    present = [key for key in FIELDS if any(key in shots.numbers for shots in groups)]
    return {
        key: np.concatenate([
            shots.numbers[key] if key in shots.numbers else np.full(count, np.nan)
            for shots, count in zip(groups, counts, strict=True)
        ])
        for key in present
    }


def _clock(groups: list[BlockShots]) -> np.ndarray:
    """Return the moments of stored balls on the clock of the place, as files write them."""
    return np.array(
        [timezone.make_naive(moment) for shots in groups for moment in shots.hit_at], dtype="datetime64[ms]"
    )
