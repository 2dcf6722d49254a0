"""One panel of the progress view: visits on real dates, first-ten means with their intervals.

Filled dots are without aids, hollow ones with. The band is the window, the shaded strip around the first
visit is the change that measuring alone could produce. Dots are not joined: nothing was seen in between.
"""

import datetime
from dataclasses import dataclass

from django.utils.safestring import SafeString

from .axes import Scale, digits_of, span, ticks
from .svg import Markup, el, group, label, line, picture, plain, signed, with_unit


@dataclass(frozen=True, kw_only=True)
class Visit:
    """One visit's dot. ``mean`` None means too few balls: n is printed, nothing is drawn for it.

    ``change`` names what else was different (new club, other venue, device, injury), or is empty.
    """

    day: datetime.date
    n: int
    mean: float | None = None
    interval: tuple[float, float] | None = None
    aided: bool = False
    change: str = ""


@dataclass(frozen=True, kw_only=True)
class Panel:
    """One quantity over the visits. ``noise`` is the minimum detectable change around the first mean."""

    label: str
    unit: str
    visits: tuple[Visit, ...]
    window: tuple[float, float] | None = None
    noise: float | None = None
    digits: int = 1
    with_sign: bool = True
    from_zero: bool = False
    key: str = "progress"


WIDTH, HEIGHT = 360.0, 268.0
_LEFT, _RIGHT, _TOP, _FLOOR = 48.0, 346.0, 54.0, 212.0


def draw(panel: Panel) -> SafeString:
    """Draw the panel. An axis that does not begin at zero says so."""
    up, across = _scales(panel)
    layers = [_bands(panel, up), _axis(panel, up, across)]
    layers += [_date(day, place, across) for place, day in enumerate(_days(panel))]
    layers += [_visit(panel, visit, up, across) for visit in panel.visits]
    return picture(*layers, key=panel.key, width=WIDTH, height=HEIGHT, class_="pic-progress",
                   title=f"{panel.label} over {len(panel.visits)} visits", description=describe(panel))


def _scales(panel: Panel) -> tuple[Scale, Scale]:
    seen = [0.0] if panel.from_zero else []
    for visit in panel.visits:
        if visit.mean is not None:
            seen += [visit.mean, *(visit.interval or ())]
    low, high = span([*seen, *(panel.window or ())], least=2 * 10.0**-panel.digits, pad=0.1)
    if panel.from_zero:
        low = 0.0
    days = [visit.day.toordinal() for visit in panel.visits] or [0]
    air = max((max(days) - min(days)) * 0.09, 1)
    return (Scale(low=low, high=high, start=_FLOOR, end=_TOP),
            Scale(low=min(days) - air, high=max(days) + air, start=_LEFT, end=_RIGHT))


def _bands(panel: Panel, up: Scale) -> Markup:
    parts = []
    first = next((visit.mean for visit in panel.visits if visit.mean is not None), None)
    if panel.noise is not None and first is not None:
        top, bottom = (min(max(up(first + side * panel.noise), _TOP), _FLOOR) for side in (1, -1))
        parts.append(el("rect", x=_LEFT, y=top, width=_RIGHT - _LEFT, height=bottom - top, class_="noise",
                        fill="none"))
    if panel.window:
        top, bottom = up(panel.window[1]), up(panel.window[0])
        parts.append(el("rect", x=_LEFT, y=top, width=_RIGHT - _LEFT, height=bottom - top, class_="window",
                        stroke_width=1.5, stroke_dasharray="3 3", fill="none", stroke="currentColor"))
    return group(*parts)


def _axis(panel: Panel, up: Scale, across: Scale) -> Markup:
    marks = ticks(up.low, up.high, about=4)
    write = signed if panel.with_sign else plain
    unit = f", {panel.unit}" if panel.unit else ""
    note = "" if panel.from_zero or up.low <= 0 <= up.high else " (axis does not start at 0)"
    parts = [label(4, 15, f"{panel.label}{unit}", "strong", size=14),
             line(_LEFT, _FLOOR, _RIGHT, _FLOOR, "ink", stroke_width=1.5)]
    parts.append(_key(panel))
    if note:
        parts.append(label(_RIGHT, 15, note.strip(), "soft", size=12, anchor="end"))
    for mark in marks:
        y = up(mark)
        parts.append(line(_LEFT, y, _RIGHT, y, "rule", stroke_width=1))
        parts.append(label(_LEFT - 6, y + 4.5, write(mark, digits_of(marks)), size=13, anchor="end"))
    return group(*parts)


def _key(panel: Panel) -> Markup:
    """One line that says what the band, the grey strip and the hollow dots are."""
    write = signed if panel.with_sign else plain
    parts, x = [], 4.0
    if panel.window:
        words = f"window {write(panel.window[0], 0)} to {write(panel.window[1], 0)}"
        parts += [el("rect", x=x, y=23, width=16, height=10, class_="window", stroke_dasharray="3 3",
                     stroke="currentColor", fill="none"), label(x + 21, 33, words, size=12)]
        x += 34 + 6.9 * len(words)
    if panel.noise is not None:
        parts += [el("rect", x=x, y=23, width=16, height=10, class_="noise", fill="none"),
                  label(x + 21, 33, "could be chance", size=12)]
        x += 34 + 6.9 * 15
    if any(visit.aided for visit in panel.visits):
        parts += [el("circle", cx=x + 6, cy=28, r=5, class_="hollow", stroke_width=2.5, stroke="currentColor"),
                  label(x + 16, 33, "with aids", size=12)]
    return group(*parts, class_="key-line")


def _visit(panel: Panel, visit: Visit, up: Scale, across: Scale) -> Markup:
    """Dot, whisker, n above, and a flag when something else changed as well; two blocks of a day stand apart."""
    x = across(visit.day.toordinal()) + _aside(panel, visit)
    parts: list[Markup] = []
    if visit.change:
        parts.append(line(x - 7, _TOP, x - 7, _FLOOR, "edge", stroke_width=1.5, stroke_dasharray="1.5 4"))
        parts.append(label(x - 7, HEIGHT - 4, visit.change, "soft", size=12, anchor="middle"))
    if visit.mean is None:
        parts.append(label(x, _FLOOR - 8, f"{visit.n} balls", "soft", size=12, anchor="middle"))
        return group(*parts, class_="visit")
    top = up(visit.mean) - 7
    if visit.interval:
        low, high = (up(edge) for edge in visit.interval)
        top = min(top, high)
        parts += [line(x, low, x, high, "ink", stroke_width=2.5),
                  line(x - 5, low, x + 5, low, "ink", stroke_width=2),
                  line(x - 5, high, x + 5, high, "ink", stroke_width=2)]
    parts.append(el("circle", cx=x, cy=up(visit.mean), r=6.5, stroke_width=3, stroke="currentColor",
                    class_="hollow" if visit.aided else "solid"))
    parts.append(label(x, top - 6, f"n {visit.n}", "halo", size=12, anchor="middle", stroke_width=4))
    return group(*parts, class_="visit")


def _days(panel: Panel) -> list[datetime.date]:
    return sorted({visit.day for visit in panel.visits})


def _date(day: datetime.date, place: int, across: Scale) -> Markup:
    """A tick and its date; every other date stands a line lower, so that close visits stay readable."""
    x = across(day.toordinal())
    return group(line(x, _FLOOR, x, _FLOOR + 5, "ink", stroke_width=1.5),
                 label(x, _FLOOR + (20 if place % 2 == 0 else 36), f"{day.day} {day:%b}", size=13, anchor="middle"))


def _aside(panel: Panel, visit: Visit) -> float:
    """How far a dot moves off its date: nothing where it is the day's only one."""
    if sum(other.day == visit.day for other in panel.visits) < 2:
        return 0.0
    return 8.0 if visit.aided else -8.0


def describe(panel: Panel) -> str:
    """Say every visit in words."""
    rows = [f"{row['day']}: {row['value']}, {row['aids']}" for row in table(panel)]
    return f"{panel.label}. " + "; ".join(rows) + "." if rows else f"{panel.label}. No visit yet."


def table(panel: Panel) -> list[dict[str, str]]:
    """The same panel as rows of words, for the table under the picture: day, value, interval, n, aids."""
    write = signed if panel.with_sign else plain
    rows = []
    for visit in panel.visits:
        known = visit.mean is not None
        rows.append({
            "day": f"{visit.day.day} {visit.day:%b %Y}",
            "value": with_unit(write(visit.mean, panel.digits), panel.unit) if known
            else "not enough balls yet",
            "interval": " to ".join(write(edge, panel.digits) for edge in visit.interval)
            if known and visit.interval else "",
            "n": str(visit.n),
            "aids": "with aids" if visit.aided else "no aids",
            "change": visit.change,
        })
    return rows
