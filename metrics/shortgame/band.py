"""How exact a test is before anybody has hit a ball: its own error band, stated with it."""

import math
from dataclasses import dataclass

from metrics.intervals import sd_interval, wilson_interval
from metrics.shortgame.designs import RATES, Design

_Z = 1.959963984540054


@dataclass(frozen=True, kw_only=True)
class Band:
    """One run is right within −``below`` to +``above``; two runs must differ by ``two_runs`` to be more than luck.

    Shares in points (0..1); everything else as a share of the number itself. The day's own effect comes on top.
    """

    balls: int
    below: float
    above: float
    two_runs: float
    of_itself: bool


def error_band(*, design: Design, balls: int | None = None) -> Band:
    """Return the 95 % error band of a run of ``balls`` (default: the whole test), worst case for shares (one half).

    A spread: chi-square. A mean error either way: half-normal errors, relative standard error √((π/2 − 1)/n).
    A median distance left: taken like a mean error, so rough. Raises ValueError below 5 balls.
    """
    n = design.balls if balls is None else balls
    if n < 5:
        raise ValueError(f"{n} balls have no error band worth stating; expected 5 or more")
    if design.kind in RATES:
        lo, hi = wilson_interval(successes=n // 2, trials=n)
        middle = (n // 2) / n
        return Band(balls=n, below=middle - lo, above=hi - middle, two_runs=_Z * math.sqrt(0.5 / n), of_itself=False)
    if design.kind == "pace":
        lo, hi = sd_interval(sd=1.0, n=n)
        return Band(balls=n, below=1 - lo, above=hi - 1, two_runs=math.exp(_Z * math.sqrt(1 / (n - 1))) - 1,
                    of_itself=True)
    half = _Z * math.sqrt((math.pi / 2 - 1) / n)
    return Band(balls=n, below=half, above=half, two_runs=math.sqrt(2) * half, of_itself=True)
