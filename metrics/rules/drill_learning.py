"""What an academy's own records say about a drill for a pattern: shrunken toward none, shown from 20 cases."""

import math
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from metrics.intervals import mean_estimate

SHOWN_FROM = 20
"""Students needed before anything is shown. A choice that also keeps single students unrecognisable."""


@dataclass(frozen=True, kw_only=True)
class DrillCase:
    """One consenting student's change at the next first ten without aids, in the needed direction (+ = better)."""

    student: str
    pattern: str
    drill: str
    quantity: str
    change: float


@dataclass(frozen=True, kw_only=True)
class DrillEffect:
    """A drill's record for a pattern, in the quantity's unit. ``n`` counts students, not visits.

    Below ``SHOWN_FROM`` only ``n`` and ``sentence`` are set. ``shrunken`` is the mean after doubt: what to
    expect for the next student; ``lo``/``hi`` is its 80 % interval. Without a group that did not do the drill this
    says what followed, not what caused it.
    """

    pattern: str
    drill: str
    quantity: str
    n: int
    mean: float | None
    shrunken: float | None
    lo: float | None
    hi: float | None
    sentence: str


def drill_effects(*, cases: Iterable[DrillCase], worthwhile: float) -> list[DrillEffect]:
    """Return the record of every pattern x drill x quantity, by name. Never per coach.

    ``worthwhile`` is the smallest worthwhile change of the quantity in its unit; drill effects are expected to
    be of that size, so the prior is normal around 0 with that SD and the mean is shrunk by
    w = worthwhile^2 / (worthwhile^2 + s^2/n). Several cases of one student are averaged first. Changes that are
    not finite raise ValueError, as does a worthwhile change of 0 or less.
    """
    if not worthwhile > 0:
        raise ValueError(f"a smallest worthwhile change of {worthwhile:g} cannot be; expected more than 0")
    groups: dict[tuple[str, str, str], dict[str, list[float]]] = {}
    for case in cases:
        if not math.isfinite(case.change):
            raise ValueError(f"the change of {case.drill} is {case.change}; expected a finite number")
        students = groups.setdefault((case.pattern, case.drill, case.quantity), {})
        students.setdefault(case.student, []).append(case.change)
    return [_effect(key, [float(np.mean(changes)) for changes in students.values()], worthwhile)
            for key, students in sorted(groups.items())]


def _effect(key: tuple[str, str, str], changes: list[float], worthwhile: float) -> DrillEffect:
    pattern, drill, quantity = key
    n = len(changes)
    if n < SHOWN_FROM:
        return DrillEffect(pattern=pattern, drill=drill, quantity=quantity, n=n, mean=None, shrunken=None, lo=None,
                           hi=None, sentence=f"{n} of {SHOWN_FROM} students so far: not shown yet.")
    found = mean_estimate(values=changes, level=0.8)
    variance = found.sd**2 / n
    weight = worthwhile**2 / (worthwhile**2 + variance)
    shrunken, half = weight * found.mean, math.sqrt(weight) * (found.hi - found.mean)
    lo, hi = shrunken - half, shrunken + half
    verdict = "a gain followed" if lo > 0 else "a loss followed" if hi < 0 else "no clear change followed"
    return DrillEffect(pattern=pattern, drill=drill, quantity=quantity, n=n, mean=found.mean, shrunken=shrunken,
                       lo=lo, hi=hi, sentence=f"{n} students: {verdict} at the next first ten.")
