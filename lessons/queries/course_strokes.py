"""What an index is worth on one set of tees: the strokes of the course, hole by hole, and the most that counts."""

from dataclasses import dataclass
from typing import Any

from metrics.handicap.scores import course_handicap, hole_maximum, strokes_received

PARS = (3, 4, 5)


@dataclass(frozen=True, kw_only=True)
class Holes:
    """Holes that get the same strokes: their stroke indices in words, the strokes, the most that counts by par."""

    said: str
    strokes: int
    most: tuple[int, ...]


def course_strokes(*, index: float, slope: int, course_rating: float, par: int) -> dict[str, Any]:
    """Return the course handicap and its holes in groups of equal strokes, stroke index 1 first. No query."""
    total = course_handicap(index=index, slope=slope, course_rating=course_rating, par=par)
    by_strokes: dict[int, list[int]] = {}
    for place in range(1, 19):
        by_strokes.setdefault(strokes_received(course_handicap=total, stroke_index=place), []).append(place)
    return {"total": total, "pars": PARS, "holes": [_group(strokes, places) for strokes, places in by_strokes.items()]}


def _group(strokes: int, places: list[int]) -> Holes:
    said = f"{places[0]} to {places[-1]}" if len(places) > 1 else str(places[0])
    return Holes(said=said, strokes=strokes,
                 most=tuple(hole_maximum(par=par, strokes_received=strokes) for par in PARS))
