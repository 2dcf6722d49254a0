"""What a run of a test measured: shares with Wilson's interval, spreads with chi-square, medians by order."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Literal

import numpy as np

from metrics.intervals import mean_estimate, sd_interval, wilson_interval
from metrics.shortgame.designs import FOOT_M, Design, Kind
from metrics.shortgame.median import median_interval
from metrics.shortgame.published import Published, published_make

INSIDE_M = 6 * FOOT_M
"""A chip inside 6 ft leaves a putt worth expecting."""
MAIN: dict[Kind, str] = {"made": "made", "gate": "through", "pace": "leave_sd", "left": "inside",
                         "carry": "carry_error", "saved": "saved", "out": "out"}
"""The one figure that stands for a run, by kind of test."""
Form = Literal["share", "mean", "sd", "median"]
Unit = Literal["share", "%", "m"]


@dataclass(frozen=True, kw_only=True)
class Ball:
    """One ball of a run; what is not noted for this kind of test is None."""

    target_m: float
    done: bool | None = None
    value_m: float | None = None
    side: int | None = None
    clean: bool | None = None


@dataclass(frozen=True, kw_only=True)
class Figure:
    """One number of a run with its 95 % interval (NaN where there is none yet) and its n.

    ``form`` says how it may be compared: shares with ``hits``, means with ``sd``. ``more_is_better`` is None for a
    number that has no better side. ``target_m`` is None for all targets together.
    """

    key: str
    label: str
    form: Form
    unit: Unit
    value: float
    lo: float
    hi: float
    n: int
    target_m: float | None = None
    hits: int = 0
    sd: float = math.nan
    more_is_better: bool | None = None
    published: Published | None = field(default=None, compare=False)


def read(*, design: Design, balls: Sequence[Ball]) -> tuple[Figure, ...]:
    """Return the figures of a run: each target first, then all together. No balls give no figures."""
    if not balls:
        return ()
    found: list[Figure] = []
    if len(design.stations) > 1:
        for station in design.stations:
            at = [ball for ball in balls if math.isclose(ball.target_m, station.metres, abs_tol=1e-6)]
            found += _of(design.kind, at, station.metres) if at else []
    only = design.stations[0].metres if len(design.stations) == 1 else None
    return (*found, *_of(design.kind, list(balls), only))


def _of(kind: Kind, balls: list[Ball], target_m: float | None) -> list[Figure]:
    return _READERS[kind](balls, target_m)


def share(*, key: str, label: str, hits: int, n: int, target_m: float | None = None,
          more_is_better: bool | None = True, published: Published | None = None) -> Figure:
    """Return a share of balls with Wilson's 95 % interval."""
    lo, hi = wilson_interval(successes=hits, trials=n)
    return Figure(key=key, label=label, form="share", unit="share", value=hits / n, lo=lo, hi=hi, n=n, hits=hits,
                  target_m=target_m, more_is_better=more_is_better, published=published)


def spread_pct(*, key: str, label: str, ratios: Sequence[float], target_m: float | None = None) -> Figure:
    """Return the SD of ratios in per cent of their target, with the chi-square interval."""
    sd = 100 * float(np.std(ratios, ddof=1)) if len(ratios) > 1 else math.nan
    lo, hi = sd_interval(sd=sd, n=len(ratios)) if len(ratios) > 1 else (math.nan, math.nan)
    return Figure(key=key, label=label, form="sd", unit="%", value=sd, lo=lo, hi=hi, n=len(ratios),
                  target_m=target_m, more_is_better=False)


def mean_pct(*, key: str, label: str, ratios: Sequence[float], target_m: float | None = None,
             more_is_better: bool | None = None) -> Figure:
    """Return the mean of ratios in per cent of their target, with Student's interval."""
    found = mean_estimate(values=[100 * ratio for ratio in ratios])
    return Figure(key=key, label=label, form="mean", unit="%", value=found.mean, lo=found.lo, hi=found.hi, n=found.n,
                  sd=found.sd, target_m=target_m, more_is_better=more_is_better)


def _made(balls: list[Ball], target_m: float | None) -> list[Figure]:
    beside = published_make(distance_m=target_m) if target_m is not None else None
    return [_counted("made", "Holed", balls, target_m, beside)]


def _saved(balls: list[Ball], target_m: float | None) -> list[Figure]:
    return [_counted("saved", "Up and down", balls, target_m, None)]


def _out(balls: list[Ball], target_m: float | None) -> list[Figure]:
    return [_counted("out", "Out and on the green", balls, target_m, None)]


def _counted(key: str, label: str, balls: list[Ball], target_m: float | None, beside: Published | None) -> Figure:
    return share(key=key, label=label, hits=sum(ball.done is True for ball in balls), n=len(balls),
                 target_m=target_m, published=beside)


def _gate(balls: list[Ball], target_m: float | None) -> list[Figure]:
    n = len(balls)
    through = share(key="through", label="Through the gate", hits=sum(ball.side == 0 for ball in balls), n=n,
                    target_m=target_m)
    sides = [share(key=key, label=label, hits=sum(ball.side == side for ball in balls), n=n, target_m=target_m,
                   more_is_better=None)
             for key, label, side in (("hook_side", "Missed on the hook side", -1),
                                      ("slice_side", "Missed on the slice side", 1))]
    return [through, *sides]


def _pace(balls: list[Ball], target_m: float | None) -> list[Figure]:
    ratios = _ratios(balls)
    return [spread_pct(key="leave_sd", label="Spread of the leave (SD)", ratios=ratios, target_m=target_m),
            mean_pct(key="leave_mean", label="Mean leave, + past the hole", ratios=ratios, target_m=target_m)]


def _left(balls: list[Ball], target_m: float | None) -> list[Figure]:
    left = [ball.value_m for ball in balls if ball.value_m is not None]
    called = [ball.clean for ball in balls if ball.clean is not None]
    middle = median_interval(values=left)
    found = [Figure(key="left_median", label="Median distance left", form="median", unit="m", value=middle.median,
                    lo=middle.lo, hi=middle.hi, n=len(left), target_m=target_m, more_is_better=False),
             share(key="inside", label="Inside 6 ft (1.8 m)", hits=sum(value <= INSIDE_M for value in left),
                   n=len(left), target_m=target_m)]
    if called and target_m is None or called and len(called) == len(balls):
        found.append(share(key="clean", label="Clean contact", hits=sum(called), n=len(called), target_m=target_m))
    return found


def _carry(balls: list[Ball], target_m: float | None) -> list[Figure]:
    errors = [ratio - 1 for ratio in _ratios(balls)]
    return [mean_pct(key="carry_error", label="Mean error of the carry, either way", ratios=[abs(e) for e in errors],
                     target_m=target_m, more_is_better=False),
            mean_pct(key="carry_bias", label="Mean carry against the target", ratios=errors, target_m=target_m),
            _cv(errors, target_m)]


def _cv(errors: list[float], target_m: float | None) -> Figure:
    """The SD of carry / target over its mean: one CV for several targets."""
    mean = 1 + float(np.mean(errors))
    return spread_pct(key="carry_cv", label="Spread of the carry (CV)", target_m=target_m,
                      ratios=[(1 + error) / mean for error in errors])


def _ratios(balls: list[Ball]) -> list[float]:
    return [ball.value_m / ball.target_m for ball in balls if ball.value_m is not None]


_READERS: dict[Kind, Callable[[list[Ball], float | None], list[Figure]]] = {
    "made": _made, "gate": _gate, "pace": _pace, "left": _left, "carry": _carry, "saved": _saved, "out": _out,
}
