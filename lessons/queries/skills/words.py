"""Figures of a short-game test in words: number, unit, interval, n; never a number without its balls."""

import math
from dataclasses import dataclass

from academy.templatetags.holdfast import plain_number
from metrics.shortgame.band import Band
from metrics.shortgame.compare import RunChange
from metrics.shortgame.designs import FOOT_M, Design, Station
from metrics.shortgame.figures import Figure
from metrics.units import System

SHOWN_FROM = 5
"""Below so many balls a share or a mean is counted, not stated."""


@dataclass(frozen=True, kw_only=True)
class FigureRow:
    """One figure, ready for a table."""

    key: str
    label: str
    at: str
    value: str
    interval: str
    n: int
    published: str
    is_main: bool


def target_words(station_or_metres: Station | float, *, system: System, on_green: bool | None = None) -> str:
    """Return a target as people say it: feet or yards, or metres with one decimal."""
    if isinstance(station_or_metres, Station):
        if system == "yards":
            return f"{station_or_metres.amount:g} {station_or_metres.unit}"
        return f"{station_or_metres.metres:.1f} m"
    if system == "metres":
        return f"{station_or_metres:.1f} m"
    feet = station_or_metres / FOOT_M
    return f"{feet:.0f} ft" if on_green else f"{feet / 3:.0f} yd"


def figure_row(figure: Figure, *, design: Design, system: System, hand: str, main: bool) -> FigureRow:
    """Return one figure in words."""
    at = ""
    if figure.target_m is not None:
        at = target_words(figure.target_m, system=system, on_green=design.stations[0].unit == "ft")
    return FigureRow(
        key=figure.key, label=_sided(figure.label, hand), at=at, value=_value(figure, system), n=figure.n,
        interval=_interval(figure, system), published=_published(figure), is_main=main,
    )


def _sided(label: str, hand: str) -> str:
    """Say left and right: the student's hand decides which is the slice side."""
    slice_side, hook_side = ("left", "right") if hand == "left" else ("right", "left")
    return label.replace("the slice side", f"the {slice_side}").replace("the hook side", f"the {hook_side}")


def number(value: float, figure: Figure, system: System) -> str:
    """Return a value of a figure with its unit."""
    if figure.unit == "share":
        return f"{100 * value:.0f} %"
    if figure.unit == "%":
        return f"{plain_number(value, 1, signed=figure.key in {'leave_mean', 'carry_bias'})} %"
    return f"{value / FOOT_M:.1f} ft" if system == "yards" else f"{value:.1f} m"


def _value(figure: Figure, system: System) -> str:
    if figure.form == "share" and figure.n < SHOWN_FROM:
        return f"{figure.hits} of {figure.n}"
    if figure.n < SHOWN_FROM or math.isnan(figure.value):
        return "not enough balls yet"
    said = number(figure.value, figure, system)
    return f"{said} ({figure.hits} of {figure.n})" if figure.form == "share" else said


def _interval(figure: Figure, system: System) -> str:
    if figure.n < SHOWN_FROM or math.isnan(figure.lo):
        return ""
    return f"{number(figure.lo, figure, system)} to {number(figure.hi, figure, system)}"


def _published(figure: Figure) -> str:
    found = figure.published
    return f"{found.of} {100 * found.share:.0f} % ({found.mark}: {found.source})" if found else ""


def band_words(band: Band) -> str:
    """Return a design's own error band as a sentence."""
    if band.of_itself:
        within = f"−{100 * band.below:.0f} to +{100 * band.above:.0f}"
        if band.below == band.above:
            within = f"±{100 * band.below:.0f}"
        return (f"{band.balls} balls: the number is right within {within} % of itself; two runs must differ by "
                f"{100 * band.two_runs:.0f} % to be more than luck, and the day adds its own.")
    return (f"{band.balls} balls: a share near one half is right within ±{100 * max(band.below, band.above):.0f} "
            f"points; two runs must differ by {100 * band.two_runs:.0f} points to be more than luck, and the day adds "
            "its own.")


def change_words(change: RunChange | None, *, figure: Figure, system: System) -> tuple[str, str]:
    """Return (word, numbers) of a change from the run before; no claim where there are too few balls."""
    if change is None:
        return "not enough balls to compare", ""
    said = {"better": "better than last time", "worse": "less good than last time",
            "different": "different from last time", "can't tell": "can’t tell yet"}[change.word]
    if change.is_ratio:
        return said, f"{change.value:.2f} times last time, 95 % {change.lo:.2f} to {change.hi:.2f}"
    unit, scale = (" points", 100) if figure.unit == "share" else (" % of the target", 1)
    parts = [plain_number(part * scale, 0 if scale == 100 else 1, signed=True)
             for part in (change.value, change.lo, change.hi)]
    return said, f"{parts[0]}{unit}, 95 % {parts[1]} to {parts[2]}"
