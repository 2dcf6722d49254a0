"""Counts as bars, and shares month by month as lines. Plain scales that begin at zero; every number also in words."""

from dataclasses import dataclass

from django.utils.safestring import SafeString

from .axes import Scale, ticks
from .svg import Markup, el, group, label, line, picture, points

WIDTH, HEIGHT = 720.0, 240.0
_LEFT, _RIGHT, _TOP, _FLOOR = 40.0, 708.0, 30.0, 196.0
_NAMES = 150.0
_ROW = 34.0
_DASHES = (None, "8 4", "2 4", "12 4 2 4")


@dataclass(frozen=True, kw_only=True)
class Bars:
    """Named counts. ``lying`` draws them as rows, for a few long names; standing suits many weeks."""

    title: str
    unit: str
    values: tuple[tuple[str, int], ...]
    key: str
    lying: bool = False


@dataclass(frozen=True, kw_only=True)
class Curves:
    """Lines of shares between 0 and 1, each with its name and how many students it stands for."""

    title: str
    lines: tuple[tuple[str, int, tuple[float, ...]], ...]
    key: str


def draw(bars: Bars) -> SafeString:
    """Draw the bars, with the number on each where there is room."""
    body, height = (_lying(bars), 16 + _ROW * len(bars.values)) if bars.lying else (_standing(bars), HEIGHT)
    words = "; ".join(f"{name}: {count}" for name, count in bars.values)
    return picture(*body, key=bars.key, width=WIDTH, height=max(height, 40), class_="pic-bars", title=bars.title,
                   description=f"{bars.unit.capitalize()}. {words}." if words else "Nothing yet.")


def _lying(bars: Bars) -> list[Markup]:
    most = max((count for _, count in bars.values), default=0) or 1
    parts = []
    for place, (name, count) in enumerate(bars.values):
        y = 10 + _ROW * place
        width = (_RIGHT - _NAMES - 60) * count / most
        parts.append(group(
            label(_NAMES - 10, y + 17, name, size=15, anchor="end"),
            el("rect", x=_NAMES, y=y, width=max(width, 1), height=_ROW - 12, class_="fill", fill="currentColor"),
            label(_NAMES + max(width, 1) + 8, y + 17, str(count), "strong", size=15),
        ))
    return parts


def _standing(bars: Bars) -> list[Markup]:
    most = max((count for _, count in bars.values), default=0) or 1
    up = Scale(low=0, high=most * 1.08, start=_FLOOR, end=_TOP)
    parts = [line(_LEFT, _FLOOR, _RIGHT, _FLOOR, "ink", stroke_width=1.5)]
    for mark in ticks(0, most, about=4):
        if mark == int(mark):
            parts += [line(_LEFT, up(mark), _RIGHT, up(mark), "rule", stroke_width=1),
                      label(_LEFT - 6, up(mark) + 5, str(int(mark)), size=14, anchor="end")]
    step = (_RIGHT - _LEFT) / max(len(bars.values), 1)
    every = max(1, round(70 / step))
    for place, (name, count) in enumerate(bars.values):
        x = _LEFT + step * place
        if count:
            parts.append(el("rect", x=x + step * 0.12, y=up(count), width=step * 0.76, height=_FLOOR - up(count),
                            class_="fill", fill="currentColor"))
        if place % every == 0:
            parts.append(label(x, _FLOOR + 20, name, size=14))
    return parts


def curves(shown: Curves) -> SafeString:
    """Draw the lines; each has its own dashes and its name at its end, so that no colour is needed."""
    longest = max((len(values) for _, _, values in shown.lines), default=1)
    up = Scale(low=0, high=1, start=_FLOOR, end=_TOP)
    across = Scale(low=0, high=max(longest - 1, 1), start=_LEFT + 10, end=_RIGHT - 150)
    parts = [line(_LEFT, _FLOOR, _RIGHT - 140, _FLOOR, "ink", stroke_width=1.5)]
    for mark in (0, 0.25, 0.5, 0.75, 1):
        parts += [line(_LEFT, up(mark), _RIGHT - 140, up(mark), "rule", stroke_width=1),
                  label(_LEFT - 4, up(mark) + 5, f"{mark:.0%}", size=13, anchor="end")]
    for month in range(longest):
        parts.append(label(across(month), _FLOOR + 20, str(month + 1), size=13, anchor="middle"))
    parts.append(label(_LEFT, _FLOOR + 38, "months since the first lesson", "soft", size=13))
    free = _TOP - 14
    for place, (name, size, values) in sorted(enumerate(shown.lines), key=lambda one: -one[1][2][-1]):
        pairs = [(across(month), up(share)) for month, share in enumerate(values)]
        free = max(free + 17, pairs[-1][1])
        parts.append(group(
            el("polyline", points=points(pairs), class_="ink", fill="none", stroke="currentColor", stroke_width=2.5,
               stroke_dasharray=_DASHES[place % len(_DASHES)]),
            line(*pairs[-1], _RIGHT - 142, free - 4, "edge", stroke_width=1),
            label(_RIGHT - 138, free, f"{name.replace(', quarter ', ' Q')}, n {size}", size=13),
        ))
    words = "; ".join(
        f"{name}, {size} students: {', '.join(f'{share:.0%}' for share in values)}"
        for name, size, values in shown.lines
    )
    return picture(*parts, key=shown.key, width=WIDTH, height=HEIGHT, class_="pic-bars", title=shown.title,
                   description=words or "Not enough students yet.")
