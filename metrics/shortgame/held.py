"""Did a number of the short game hold? Runs after a day against the run before it, in the words of every verdict."""

from collections.abc import Sequence
from dataclasses import dataclass

from metrics.change.words import Code
from metrics.shortgame.compare import RunChange, compare
from metrics.shortgame.figures import Figure

PER_CENT = {"share": 100.0, "%": 1.0}
"""Limits of a test are stated in per cent: what a figure is multiplied by."""


@dataclass(frozen=True, kw_only=True)
class RunsVerdict:
    """``code`` a verdict word; ``change`` of the newest run against the first, None where it cannot be compared."""

    code: Code
    change: RunChange | None


def judge_runs(*, before: Figure, after: Sequence[Figure], lower: float | None = None,
               upper: float | None = None) -> RunsVerdict:
    """Return what the runs after a day, oldest first, say against the one before.

    A run's interval holds its own balls and not the day, so one later run is never called kept: "likely" needs the
    newest two both better than the run before beyond 95 %, "established" is not given. "slipped": the newest is worse
    beyond 95 %. "in_window": the run before and the newest lie within the limits [%]. No later run: "cannot_tell".
    """
    changes = [compare(before=before, after=one) for one in after]
    words = [change.word if change else "can't tell" for change in changes]
    code: Code = "cannot_tell"
    if words[-1:] == ["worse"]:
        code = "slipped"
    elif after and all(within(one, lower=lower, upper=upper) for one in (before, after[-1])):
        code = "in_window"
    elif words[-2:] == ["better", "better"]:
        code = "likely"
    return RunsVerdict(code=code, change=changes[-1] if changes else None)


def within(figure: Figure, *, lower: float | None, upper: float | None) -> bool:
    """True where the value lies within the limits [%], ends included; False where no limit is given."""
    value = figure.value * PER_CENT.get(figure.unit, 1.0)
    if lower is None and upper is None:
        return False
    return (lower is None or value >= lower) and (upper is None or value <= upper)
