"""Evidence on one number line: every ball a dot, the window a band, the mean with its interval.

The picture does no statistics: mean and interval come in ready.
"""

import math
from dataclasses import dataclass

from django.utils.safestring import SafeString

from .axes import Scale, digits_of, span, ticks
from .svg import Markup, el, group, label, line, picture, signed, with_unit


@dataclass(frozen=True, kw_only=True)
class WindowDots:
    """``values`` and ``mishits`` in the player's signs. ``mirrored`` turns the line round: use it for a
    left-hander's sideways numbers, so that right on the picture is right on the range."""

    label: str
    unit: str
    values: tuple[float, ...]
    window: tuple[float, float] | None = None
    mean: float | None = None
    interval: tuple[float, float] | None = None
    mishits: tuple[float, ...] = ()
    minus_word: str = ""
    plus_word: str = ""
    digits: int = 1
    mirrored: bool = False
    key: str = "dots"


WIDTH, HEIGHT, _LEFT, _AXIS_Y = 360.0, 150.0, 14.0, 104.0
_DOT = 5.0


def draw(dots: WindowDots) -> SafeString:
    """Draw the line. Without a mean (too few balls) the dots stand alone and the words say how many."""
    scale = _scale(dots)
    layers = [_window(dots, scale), _axis(dots, scale), _dots(dots, scale), _mean(dots, scale)]
    return picture(*layers, key=dots.key, width=WIDTH, height=HEIGHT, class_="pic-dots",
                   title=f"{dots.label}: {len(dots.values)} balls against the window"
                   if dots.window else f"{dots.label}: {len(dots.values)} balls",
                   description=describe(dots))


def _scale(dots: WindowDots) -> Scale:
    seen = [*dots.values, *dots.mishits, *(dots.window or ()), *(dots.interval or ())]
    low, high = span(seen, least=2 * 10.0**-dots.digits)
    ends = (WIDTH - _LEFT, _LEFT) if dots.mirrored else (_LEFT, WIDTH - _LEFT)
    return Scale(low=low, high=high, start=ends[0], end=ends[1])


def _window(dots: WindowDots, scale: Scale) -> Markup:
    if dots.window is None:
        return Markup()
    left, right = sorted(scale(edge) for edge in dots.window)
    words = f"window {signed(dots.window[0], dots.digits)} to {signed(dots.window[1], dots.digits)}"
    middle = min(max((left + right) / 2, 84), WIDTH - 84)
    return group(
        el("rect", x=left, y=22, width=right - left, height=_AXIS_Y - 22, class_="window", stroke_width=1.5,
           stroke_dasharray="3 3", fill="none", stroke="currentColor"),
        label(middle, 15, words, "accent-text strong", size=13, anchor="middle"),
    )


def _axis(dots: WindowDots, scale: Scale) -> Markup:
    marks = ticks(scale.low, scale.high)
    parts = [line(_LEFT, _AXIS_Y, WIDTH - _LEFT, _AXIS_Y, "ink", stroke_width=1.5)]
    for mark in marks:
        x = scale(mark)
        parts.append(line(x, _AXIS_Y, x, _AXIS_Y + 5, "ink", stroke_width=1.5))
        unit = dots.unit if dots.unit == "°" else ""
        parts.append(label(x, _AXIS_Y + 20, signed(mark, digits_of(marks)) + unit, size=13, anchor="middle"))
    left, right = (dots.plus_word, dots.minus_word) if dots.mirrored else (dots.minus_word, dots.plus_word)
    if left:
        parts.append(label(_LEFT, HEIGHT - 8, f"← {left}", "soft", size=13))
    if right:
        parts.append(label(WIDTH - _LEFT, HEIGHT - 8, f"{right} →", "soft", size=13, anchor="end"))
    return group(*parts)


def _dots(dots: WindowDots, scale: Scale) -> Markup:
    """Stack balls that would hide each other, so that every one can be counted."""
    parts = []
    room = int((_AXIS_Y - 62) / (2 * _DOT))
    newest = [math.inf] * room  # where the last dot of each level stands; the dots come in their order
    for x in (scale(value) for value in sorted(dots.values)):
        level = next((level for level in range(room) if abs(x - newest[level]) >= 2 * _DOT + 0.5), room)
        if level < room:
            newest[level] = x
        y = _AXIS_Y - _DOT - 3 - level * (2 * _DOT + 0.5)
        parts.append(el("circle", cx=x, cy=y, r=_DOT, class_="fill ball-dot"))
    for value in dots.mishits:
        x, y = scale(value), _AXIS_Y - _DOT - 3
        parts.append(group(line(x - 5, y - 5, x + 5, y + 5, "ink", stroke_width=2),
                           line(x - 5, y + 5, x + 5, y - 5, "ink", stroke_width=2), class_="mishit-dot"))
    return group(*parts)


def _mean(dots: WindowDots, scale: Scale) -> Markup:
    if dots.mean is None:
        return Markup()
    x, y = scale(dots.mean), 40.0
    parts = []
    if dots.interval:
        low, high = (scale(edge) for edge in dots.interval)
        parts = [line(low, y, high, y, "ink", stroke_width=3),
                 line(low, y - 7, low, y + 7, "ink", stroke_width=3),
                 line(high, y - 7, high, y + 7, "ink", stroke_width=3)]
    parts.append(el("path", class_="fill mean", d=f"M{x:.2f},{y - 10:.2f} l9,10 -9,10 -9,-10 z"))
    return group(*parts)


def describe(dots: WindowDots) -> str:
    """Say the picture in words, n first."""
    said = [f"{len(dots.values)} balls"]
    if dots.mean is not None:
        said.append(f"mean {with_unit(signed(dots.mean, dots.digits), dots.unit)}")
    if dots.interval:
        low, high = (signed(edge, dots.digits) for edge in dots.interval)
        said.append(f"interval of the mean {low} to {high}")
    if dots.window:
        low, high = (signed(edge, dots.digits) for edge in dots.window)
        inside = sum(dots.window[0] <= value <= dots.window[1] for value in dots.values)
        said.append(f"window {low} to {high}, {inside} of {len(dots.values)} inside")
    if dots.mishits:
        said.append(f"{len(dots.mishits)} mishits shown as crosses, not in the mean")
    return "; ".join(said) + "."
