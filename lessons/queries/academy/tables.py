"""What a person would rather look at: lessons a week, and where the verdicts stand, as a whole and by number."""

from collections import Counter, defaultdict
from datetime import date, timedelta
from typing import Any

from lessons.queries.roster import SHAPES, Row
from metrics.change.words import WORDS
from metrics.fields import FIELDS

from .world import World

FOLLOW_UPS = 2


def weeks(world: World) -> list[tuple[date, int]]:
    """Return each week's Monday and its finished lessons, a year back at most; the running week last."""
    monday = world.today - timedelta(days=world.today.weekday())
    first = max(monday - timedelta(weeks=52), min((visit.day for visit in world.visits), default=monday))
    counts = Counter(visit.day - timedelta(days=visit.day.weekday()) for visit in world.visits if visit.attended)
    found, day = [], first - timedelta(days=first.weekday())
    while day <= monday:
        found.append((day, counts[day]))
        day += timedelta(weeks=1)
    return found


def followed(world: World) -> list[Row]:
    """Return the students with at least two follow-ups; the spread speaks of nobody else."""
    return [row for row in world.rows if row.return_visits >= FOLLOW_UPS]


def spread(world: World) -> list[dict[str, Any]]:
    """Return how many stand at each verdict, “can't tell” openly among them."""
    counts = Counter(row.verdict or "cannot_tell" for row in followed(world))
    total = sum(counts.values())
    return [
        {"verdict": key, "word": WORDS.get(key, key), "shape": shape, "n": counts[key],
         "share": counts[key] / total if total else 0.0}
        for key, shape in SHAPES.items()
    ]


def spread_by_number(world: World) -> list[dict[str, Any]]:
    """Return the same for each number that is worked on, most students first."""
    found: dict[str, Counter] = defaultdict(Counter)
    for row in followed(world):
        found[row.quantity][row.verdict or "cannot_tell"] += 1
    return [
        {"number": FIELDS[quantity].label if quantity in FIELDS else "no number in work yet", "n": counts.total(),
         "counts": [counts[key] for key in SHAPES]}
        for quantity, counts in sorted(found.items(), key=lambda pair: (-pair[1].total(), pair[0]))
    ]
