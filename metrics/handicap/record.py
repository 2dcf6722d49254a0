"""A whole scoring record walked through in order: every differential, every reduction, every index after it."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from metrics.handicap.index import COUNTED, capped_index, exceptional_reduction, lowest_counted, uncapped_index
from metrics.handicap.scores import exact, to_tenth

LOW_INDEX_DAYS = 365
"""Rule 5.7."""


@dataclass(frozen=True, kw_only=True)
class Score:
    """One acceptable score of 18 holes. ``official_index`` is the index that day, where it was typed in."""

    played_on: date
    differential: float
    official_index: float | None = None


@dataclass(frozen=True, kw_only=True)
class Line:
    """What one score did. ``index`` is the index after it, None below 3 scores; ``cap`` "", "soft" or "hard"."""

    score: Score
    reduction: int
    index: float | None
    low_index: float | None
    cap: str


@dataclass(frozen=True, kw_only=True)
class Mirror:
    """The record as the rules read it. ``counted`` are positions (in ``lines``) of the differentials averaged;
    ``adjusted`` the differentials after the reductions of exceptional scores."""

    lines: tuple[Line, ...]
    adjusted: tuple[float, ...]
    counted: frozenset[int]

    @property
    def index(self) -> float | None:
        """The index after the last score."""
        return self.lines[-1].index if self.lines else None


def mirror(scores: Sequence[Score]) -> Mirror:
    """Walk through scores, oldest first, and return the record. Raises ValueError where they are out of order.

    The reduction of an exceptional score goes to the latest 20 differentials, or to all where there are fewer, and
    adds up (rule 5.9). The low index is the lowest of those worked out from 20 scores or more in the 365 days
    before the score (rule 5.7; that earlier ones do not count is from memory).
    """
    lines: list[Line] = []
    adjusted: list[float] = []
    for score in scores:
        if lines and score.played_on < lines[-1].score.played_on:
            raise ValueError(f"{score.played_on} stands after {lines[-1].score.played_on}; expected the oldest first")
        before = score.official_index if score.official_index is not None else (lines[-1].index if lines else None)
        reduction = exceptional_reduction(differential=score.differential, index=before)
        adjusted.append(score.differential)
        if reduction:
            recent = range(max(len(adjusted) - COUNTED, 0), len(adjusted))
            for place in recent:
                adjusted[place] = to_tenth(exact(adjusted[place]) + reduction)
        lines.append(_line(score, reduction, lines, adjusted))
    return Mirror(lines=tuple(lines), adjusted=tuple(adjusted), counted=_counted(adjusted))


def _line(score: Score, reduction: int, lines: list[Line], adjusted: list[float]) -> Line:
    calculated, low = uncapped_index(differentials=adjusted), _low_index(lines, score.played_on)
    if calculated is None:
        return Line(score=score, reduction=reduction, index=None, low_index=None, cap="")
    index, cap = capped_index(calculated=calculated, low_index=low)
    return Line(score=score, reduction=reduction, index=index, low_index=low, cap=cap)


def _low_index(lines: list[Line], day: date) -> float | None:
    since = day - timedelta(days=LOW_INDEX_DAYS)
    known = [line.index for line in lines[COUNTED - 1:] if line.index is not None and line.score.played_on >= since]
    return min(known, default=None)


def _counted(adjusted: list[float]) -> frozenset[int]:
    latest = range(max(len(adjusted) - COUNTED, 0), len(adjusted))
    lowest, _ = lowest_counted(scores=len(latest))
    return frozenset(sorted(latest, key=lambda place: (adjusted[place], -place))[:lowest])
