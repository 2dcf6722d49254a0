"""Flights from the side, one scale for distance and height, so that the landing angle is a true angle."""

import math
from dataclasses import dataclass

from django.utils.safestring import SafeString

from .axes import Scale, ticks
from .flight_frame import Curve, Unit, in_unit
from .svg import Markup, el, group, label, line, picture, plain, points


@dataclass(frozen=True, kw_only=True)
class SideView:
    """The first curve is labelled with apex and landing angle; later ones are drawn for comparison.

    ``beside`` is another view that this one is compared with: both are drawn to one scale.
    """

    curves: tuple[Curve, ...]
    unit: Unit = "yd"
    title: str = "Flight from the side"
    key: str = "flight-side"
    beside: "SideView | None" = None


WIDTH = 420.0
_LEFT, _RIGHT, _TOP = 10.0, 384.0, 40.0


def draw(view: SideView) -> SafeString:
    """Draw the flights. Raises ValueError when there is nothing to draw."""
    if not any(curve.points for curve in view.curves):
        raise ValueError("a side view needs at least one flight with points")
    seen = [point for curve in (*view.curves, *(view.beside.curves if view.beside else ())) for point in curve.points]
    far, high = max(point[0] for point in seen), max(point[1] for point in seen)
    per_m = (_RIGHT - _LEFT) / max(far, 1.0)
    floor = _TOP + max(high * per_m, 30.0)
    across = Scale(low=0, high=1, start=_LEFT, end=_LEFT + per_m)
    up = Scale(low=0, high=1, start=floor, end=floor - per_m)
    layers = [_ground(view, across, floor, far)]
    layers += [_curve(curve, across, up) for curve in view.curves]
    layers.append(_apex(view, across, up))
    layers.append(_landing(view, across, floor))
    return picture(*layers, key=view.key, width=WIDTH, height=floor + 48, class_="pic-flight",
                   title=view.title, description=describe(view), data_scale=per_m)


def apex_of(curve: Curve) -> tuple[float, float]:
    """Where the drawn flight is highest: (downrange_m, height_m)."""
    far, height, _ = max(curve.points, key=lambda point: point[1])
    return far, height


def _ground(view: SideView, across: Scale, floor: float, far: float) -> Markup:
    parts = [line(_LEFT, floor, WIDTH - 6, floor, "ink", stroke_width=1.5)]
    for mark in ticks(0, in_unit(far, view.unit), about=4):
        x = across(mark / in_unit(1, view.unit))
        parts.append(line(x, floor, x, floor + 5, "ink", stroke_width=1.5))
        parts.append(label(x, floor + 20, plain(mark, 0), size=13, anchor="middle" if mark else "start"))
    kinds = "– – computed" if all(curve.modelled for curve in view.curves) else "—— measured   – – computed"
    parts.append(label(_LEFT, floor + 40, kinds, "soft", size=13))
    parts.append(label(WIDTH - 6, floor + 40, f"{view.unit}, height to the same scale", "soft", size=13,
                       anchor="end"))
    return group(*parts)


def _curve(curve: Curve, across: Scale, up: Scale) -> Markup:
    path = points([(across(far), up(height)) for far, height, _ in curve.points])
    return el("polyline", points=path, class_="accent modelled" if curve.modelled else "ink measured",
              fill="none", stroke="currentColor", stroke_width=2.5, stroke_linecap="round",
              stroke_linejoin="round", stroke_dasharray="7 5" if curve.modelled else None)


def _apex(view: SideView, across: Scale, up: Scale) -> Markup:
    far, height = apex_of(view.curves[0])
    x, y = across(far), up(height)
    words = f"apex {plain(in_unit(height, view.unit), 0)} {view.unit}"
    return group(
        line(x, y, x, up(0), "edge", stroke_width=1, stroke_dasharray="2 3"),
        el("circle", cx=x, cy=y, r=4, class_="fill"),
        label(x, y - 12, words, "strong", size=14, anchor="middle"),
        class_="apex",
    )


def _landing(view: SideView, across: Scale, floor: float) -> Markup:
    """The angle between ground and flight where it comes down, drawn at its true size."""
    curve = view.curves[0]
    if curve.landing_angle_deg is None:
        return Markup()
    x = across(curve.points[-1][0])
    turn = math.radians(curve.landing_angle_deg)
    long = 44.0
    return group(
        line(x, floor, x - long * math.cos(turn), floor - long * math.sin(turn), "edge", stroke_width=1.5),
        el("path", class_="edge", fill="none", stroke="currentColor", stroke_width=1.5,
           d=f"M{x - 24:.2f},{floor:.2f} A24,24 0 0 1 {x - 24 * math.cos(turn):.2f},"
             f"{floor - 24 * math.sin(turn):.2f}"),
        label(x + 4, floor - 12, f"{plain(curve.landing_angle_deg, 0)}°", "strong", size=14),
        class_="landing-angle",
    )


def describe(view: SideView) -> str:
    """Say the first flight in words; the others by count."""
    curve = view.curves[0]
    far, height = apex_of(curve)
    word = "Computed" if curve.modelled else "Measured"
    said = [f"{word} flight: carries {plain(in_unit(curve.points[-1][0], view.unit), 0)} {view.unit}, "
            f"apex {plain(in_unit(height, view.unit), 0)} {view.unit} "
            f"at {plain(in_unit(far, view.unit), 0)} {view.unit}."]
    if curve.landing_angle_deg is not None:
        said.append(f"It comes down at {plain(curve.landing_angle_deg, 0)}° to the ground.")
    if len(view.curves) > 1:
        said.append(f"{len(view.curves) - 1} more drawn for comparison.")
    return " ".join(said)
