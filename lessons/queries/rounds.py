"""Rounds of one student read as the Rules of Handicapping read them, and as a teacher does."""

from dataclasses import dataclass
from datetime import date
from typing import Any

from academy.models import Student
from lessons.models import Round
from metrics.handicap.form import Form, form_of
from metrics.handicap.record import Line, Mirror, Score, mirror
from metrics.handicap.scores import differential
from metrics.intervals import mean_estimate

COUNTS = {
    "fairways": "Fairways hit", "greens": "Greens in regulation", "putts": "Putts", "penalties": "Penalty strokes",
}


@dataclass(frozen=True, kw_only=True)
class RoundRow:
    """One round with what the rules made of it."""

    played: Round
    line: Line
    adjusted: float
    counts: bool


def rounds_page(*, student: Student) -> dict[str, Any]:
    """Return everything the page of rounds shows, newest round first. One query."""
    played = list(student.rounds.filter(removed_at__isnull=True))
    found = mirror([score_of(one) for one in played])
    rows = [
        RoundRow(played=one, line=line, adjusted=found.adjusted[place], counts=place in found.counted)
        for place, (one, line) in enumerate(zip(played, found.lines, strict=True))
    ]
    return {
        "rows": rows[::-1], "mirror": found, "form": score_form(found), "averages": _averages(played),
        "official": student.handicap_index, "apart": _apart(student, found),
    }


def score_form(found: Mirror) -> Form | None:
    """Return mean and spread of the last ten differentials as played, without the reductions of the rules."""
    return form_of([line.score.differential for line in found.lines])


def differentials(students: Any) -> dict[int, list[tuple[date, float]]]:
    """Return student number -> day and differential as played of each round, oldest first. One query."""
    found: dict[int, list[tuple[date, float]]] = {}
    for one in Round.objects.filter(student__in=students, removed_at__isnull=True):
        score = score_of(one)
        found.setdefault(one.student_id, []).append((score.played_on, score.differential))
    return found


def score_of(one: Round) -> Score:
    """Return a round as the rules read it: its differential, official where that was typed in."""
    value = one.official_differential
    if value is None:
        value = differential(
            adjusted_gross=one.adjusted_gross, course_rating=one.course_rating, slope=one.slope, pcc=one.pcc
        )
    return Score(played_on=one.played_on, differential=value, official_index=one.official_index)


def _apart(student: Student, found: Mirror) -> float | None:
    """Return how far the mirror lies from the official index, None where one of them is missing."""
    if student.handicap_index is None or found.index is None:
        return None
    return round(found.index - student.handicap_index, 1)


def _averages(played: list[Round]) -> list[dict[str, Any]]:
    """Return the mean of each count over the last ten rounds of 18 holes that have it."""
    last = [one for one in played if one.holes == Round.Holes.EIGHTEEN][-10:]
    found = []
    for name, label in COUNTS.items():
        known = mean_estimate(values=[value for one in last if (value := getattr(one, name)) is not None])
        if known.n:
            found.append({"label": label, "mean": known.mean, "lo": known.lo, "hi": known.hi, "n": known.n,
                          "has_range": known.n > 1})
    return found
