"""Flights and landings from above: the target straight up, sideways for the player's hand."""

import math
from dataclasses import dataclass

from django.utils.safestring import SafeString

from .axes import Scale, ticks
from .flight_frame import Curve, Ellipse, Landing, Unit, in_unit
from .svg import Markup, el, group, label, line, picture, plain, points


@dataclass(frozen=True, kw_only=True)
class TopView:
    """``playable_m`` is how far to either side of the line still counts; None leaves the lines out.

    ``beside`` is another view that this one is compared with: both are drawn to one scale. ``dots_word`` says what
    the filled dots are.
    """

    curves: tuple[Curve, ...] = ()
    landings: tuple[Landing, ...] = ()
    ellipse: Ellipse | None = None
    playable_m: float | None = None
    left_handed: bool = False
    unit: Unit = "yd"
    title: str = "Flights from above"
    key: str = "flight-top"
    beside: "TopView | None" = None
    dots_word: str = "measured"


WIDTH, HEIGHT = 320.0, 440.0
_TOP, _FLOOR, _LEFT, _RIGHT = 30.0, 392.0, 40.0, 312.0


def draw(view: TopView) -> SafeString:
    """Draw the view. Sideways is stretched by a whole number, and the picture says by how much."""
    down, across, stretch = scales(view)
    layers = [_ground(view, down, across), _playable(view, across), _ellipse(view, down, across)]
    layers += [_curve(curve, down, across) for curve in view.curves]
    layers += _landings(view.landings, down, across)
    layers.append(_words(view, stretch))
    return picture(*layers, key=view.key, width=WIDTH, height=HEIGHT, class_="pic-top", title=view.title,
                   description=describe(view, stretch), data_stretch=stretch,
                   data_hand="left" if view.left_handed else "right")


def scales(view: TopView) -> tuple[Scale, Scale, int]:
    """Downrange and sideways scales in metres, and how many times sideways is stretched (1 = true)."""
    far, wide = _extent(view)
    if view.beside:
        for own, other in zip((far, wide), _extent(view.beside), strict=True):
            own += other
    reach = max([*far, 10.0]) * 1.06
    half = max([*wide, 1.0]) * 1.1
    per_m = (_FLOOR - _TOP) / reach
    room = (_RIGHT - _LEFT) / 2
    stretch = max(1, min(4, math.floor(room / (half * per_m))))
    if room < half * per_m:
        per_m = room / half
    middle = (_LEFT + _RIGHT) / 2
    side = -1 if view.left_handed else 1
    return (
        Scale(low=0, high=1, start=_FLOOR, end=_FLOOR - per_m),
        Scale(low=0, high=1, start=middle, end=middle + side * per_m * stretch),
        stretch,
    )


def _extent(view: TopView) -> tuple[list[float], list[float]]:
    """Everything the view has to hold: distances downrange, and to either side of the line."""
    far = [point[0] for curve in view.curves for point in curve.points]
    wide = [abs(point[2]) for curve in view.curves for point in curve.points]
    far += [landing.downrange_m for landing in view.landings]
    wide += [abs(landing.side_m) for landing in view.landings] + [view.playable_m or 0.0]
    if view.ellipse:
        far.append(view.ellipse.downrange_m + view.ellipse.half_long_m)
        wide.append(abs(view.ellipse.side_m) + max(view.ellipse.half_wide_m, view.ellipse.half_long_m * 0.2))
    return far, wide


def _ground(view: TopView, down: Scale, across: Scale) -> Markup:
    middle = across(0)
    reach = (_FLOOR - _TOP) / (down(0) - down(1))
    parts = [line(middle, _FLOOR, middle, _TOP - 4, "target-line", stroke_width=1.5, stroke_dasharray="10 5"),
             el("path", class_="fill", d=f"M{middle:.2f},{_TOP - 18:.2f} l-6,12 h12 z")]
    for mark in ticks(0, in_unit(reach, view.unit), about=4):
        y = down(mark / in_unit(1, view.unit))
        parts.append(line(_LEFT, y, _RIGHT, y, "rule", stroke_width=1))
        parts.append(label(_LEFT - 6, y + 4.5, plain(mark, 0), size=13, anchor="end"))
    parts.append(label(_LEFT - 6, _TOP - 12, view.unit, "soft", size=13, anchor="end"))
    return group(*parts)


def _playable(view: TopView, across: Scale) -> Markup:
    if view.playable_m is None:
        return Markup()
    edges = [across(side * view.playable_m) for side in (-1, 1)]
    return group(*(line(x, _FLOOR, x, _TOP, "window-edge", stroke_width=1.5, stroke_dasharray="3 3")
                   for x in edges))


def _curve(curve: Curve, down: Scale, across: Scale) -> Markup:
    path = points([(across(side), down(far)) for far, _, side in curve.points])
    return el("polyline", points=path, class_="accent modelled" if curve.modelled else "ink measured",
              fill="none", stroke="currentColor", stroke_width=2.5, stroke_linecap="round",
              stroke_dasharray="7 5" if curve.modelled else None)


CROWD = 100
"""So many measured balls are drawn as one path: the same dots in a tenth of the bytes."""


def _landings(landings: tuple[Landing, ...], down: Scale, across: Scale) -> list[Markup]:
    plain_ones = [landing for landing in landings if not landing.mishit and not landing.modelled]
    if len(plain_ones) < CROWD:
        return [_landing(landing, down, across) for landing in landings]
    dots = "".join(f"M{across(one.side_m):.1f} {down(one.downrange_m):.1f}z" for one in plain_ones)
    crowd = el("path", d=dots, class_="ink measured", fill="none", stroke="currentColor", stroke_width=10,
               stroke_linecap="round")
    return [crowd, *(_landing(one, down, across) for one in landings if one.mishit or one.modelled)]


def _landing(landing: Landing, down: Scale, across: Scale) -> Markup:
    x, y = across(landing.side_m), down(landing.downrange_m)
    if landing.mishit:
        return group(line(x - 5, y - 5, x + 5, y + 5, "ink", stroke_width=2),
                     line(x - 5, y + 5, x + 5, y - 5, "ink", stroke_width=2), class_="mishit-dot")
    if landing.modelled:
        return el("circle", cx=x, cy=y, r=4.5, class_="hollow modelled", stroke_width=2, stroke="currentColor")
    return el("circle", cx=x, cy=y, r=5, class_="fill measured")


def _ellipse(view: TopView, down: Scale, across: Scale) -> Markup:
    if view.ellipse is None:
        return Markup()
    shape = view.ellipse
    turn = math.radians(shape.turn_deg)
    corners = []
    corner_numbers = range(48)
    for step in corner_numbers:
        a = 2 * math.pi * step / len(corner_numbers)
        along, wide = shape.half_long_m * math.cos(a), shape.half_wide_m * math.sin(a)
        corners.append((across(shape.side_m + along * math.sin(turn) + wide * math.cos(turn)),
                        down(shape.downrange_m + along * math.cos(turn) - wide * math.sin(turn))))
    return el("polygon", points=points(corners), class_="window", fill="none", stroke="currentColor",
              stroke_width=1.5)


def _words(view: TopView, stretch: int) -> Markup:
    note = "true to scale" if stretch == 1 else f"sideways drawn {stretch}×"
    if view.playable_m is not None:
        note = f"dotted: playable; {note}"
    kinds = []
    if any(not landing.modelled for landing in view.landings):
        kinds.append(f"● {view.dots_word}")
    if any(landing.modelled for landing in view.landings):
        kinds.append("○ computed")
    if any(curve.modelled for curve in view.curves):
        kinds.append("– – computed flight")
    return group(label(_LEFT, HEIGHT - 28, "\u2003".join(kinds), size=13),
                 label(_LEFT, HEIGHT - 9, note, "soft", size=13))


def describe(view: TopView, stretch: int) -> str:
    """Say the picture in words: counts, sides as seen, what is measured and what is computed."""
    measured = [landing for landing in view.landings if not landing.modelled and not landing.mishit]
    right = sum((landing.side_m > 0) != view.left_handed for landing in measured if landing.side_m)
    said = ["The target is straight up."]
    if measured:
        said.append(f"{len(measured)} measured landings: {right} right of the line, "
                    f"{sum(1 for m in measured if m.side_m) - right} left.")
    if view.curves:
        computed = sum(curve.modelled for curve in view.curves)
        said.append(f"{len(view.curves)} flights drawn, {computed} of them computed.")
    if view.ellipse:
        said.append(f"The ellipse is {view.ellipse.word or 'the landing pattern'}.")
    if view.playable_m is not None:
        said.append(f"Playable is within {plain(in_unit(view.playable_m, view.unit), 0)} {view.unit} "
                    "of the line on either side.")
    if stretch > 1:
        said.append(f"Sideways distances are drawn {stretch} times as large as downrange ones.")
    return " ".join(said)
