"""One panel of the progress view: visits on real dates, first-ten means with their intervals.

Filled dots are without aids, hollow ones with. The band is the window, the shaded strip around the baseline is the
change that measuring alone could produce. Dots are not joined: nothing was seen in between. With many visits the
picture grows wider instead of smaller, and is scrolled on a phone.
"""

from statistics import median

from django.utils.safestring import SafeString

from .axes import Scale, digits_of, span, ticks
from .progress_data import Panel, Visit, describe, table
from .svg import Markup, el, group, label, line, picture, plain, signed

__all__ = ["Panel", "Visit", "describe", "draw", "is_wide", "table"]

NARROW, HEIGHT, MARKS_HEIGHT = 360.0, 250.0, 36.0
WIDEST, MOST_NARROW, GAP = 1200.0, 8, 27.0
_LEFT, _TOP, _FLOOR = 48.0, 54.0, 212.0
MARKS = {"club": "C", "place": "P", "device": "D", "pain": "!"}
"""What may be new besides the numbers -> its letter under the dates."""


def is_wide(panel: Panel) -> bool:
    """Whether there are too many visits for a picture of a phone's width."""
    return len(panel.days) > MOST_NARROW


def draw(panel: Panel) -> SafeString:
    """Draw the panel. An axis that does not begin at zero says so."""
    width = _width(panel)
    up, across = _scales(panel, width)
    layers = [_bands(panel, up, width), _axis(panel, up, width), *_turns(panel, across), *_dates(panel, across)]
    placed = sorted(((across(visit.day.toordinal()) + _aside(panel, visit), visit) for visit in panel.visits),
                    key=lambda pair: pair[0])
    taken = [(x, up(visit.mean) + 4) for x, visit in placed if visit.mean is not None]
    layers += [_changes(placed), _whiskers(placed, up), _dots(panel, placed, up), _counts(panel, placed, up, taken)]
    layers.append(_marks_key(panel))
    wide = is_wide(panel)
    height = HEIGHT + (MARKS_HEIGHT if any(visit.change for visit in panel.visits) else 0)
    return picture(*layers, key=panel.key, width=width, height=height, own_size=wide,
                   class_="pic-wide" if wide else "pic-progress",
                   title=f"{panel.label} over {len(panel.visits)} visits", description=describe(panel))


def _width(panel: Panel) -> float:
    """Room for a usual gap between two visits; a phone's width where that is enough."""
    days = [day.toordinal() for day in panel.days]
    if len(days) <= MOST_NARROW:
        return NARROW
    gap = median(later - day for day, later in zip(days, days[1:], strict=False))
    return min(max(NARROW, (days[-1] - days[0]) / gap * GAP * 1.2 + 2 * _LEFT), WIDEST)


def _right(width: float) -> float:
    """Wide pictures repeat the axis on the right, where a phone begins to look."""
    return width - (_LEFT if width > NARROW else 14)


def _scales(panel: Panel, width: float) -> tuple[Scale, Scale]:
    seen = [0.0] if panel.from_zero else []
    for visit in panel.visits:
        if visit.mean is not None:
            seen += [visit.mean, *(visit.interval or ())]
    low, high = span([*seen, *(panel.window or ())], least=2 * 10.0**-panel.digits, pad=0.1)
    if panel.from_zero:
        low = 0.0
    days = [day.toordinal() for day in panel.days] or [0]
    air = max((max(days) - min(days)) * (0.09 if width == NARROW else 0.03), 1)
    return (Scale(low=low, high=high, start=_FLOOR, end=_TOP),
            Scale(low=min(days) - air, high=max(days) + air, start=_LEFT, end=_right(width)))


def _bands(panel: Panel, up: Scale, width: float) -> Markup:
    parts = []
    right, about = _right(width), panel.baseline
    if panel.noise is not None and about is not None:
        top, bottom = (min(max(up(about + side * panel.noise), _TOP), _FLOOR) for side in (1, -1))
        parts.append(el("rect", x=_LEFT, y=top, width=right - _LEFT, height=bottom - top, class_="noise", fill="none"))
    if panel.window:
        top, bottom = up(panel.window[1]), up(panel.window[0])
        parts.append(el("rect", x=_LEFT, y=top, width=right - _LEFT, height=bottom - top, class_="window",
                        stroke_width=1.5, stroke_dasharray="3 3", fill="none", stroke="currentColor"))
    return group(*parts)


def _axis(panel: Panel, up: Scale, width: float) -> Markup:
    marks, right = ticks(up.low, up.high, about=4), _right(width)
    write = signed if panel.with_sign else plain
    unit = f", {panel.unit}" if panel.unit else ""
    parts = [label(4, 15, f"{panel.label}{unit}", "strong", size=14),
             line(_LEFT, _FLOOR, right, _FLOOR, "ink", stroke_width=1.5), _key(panel)]
    if not (panel.from_zero or up.low <= 0 <= up.high):
        parts.append(label(right, 15, "(axis does not start at 0)", "soft", size=12, anchor="end"))
    for mark in marks:
        y, words = up(mark), write(mark, digits_of(marks))
        parts += [line(_LEFT, y, right, y, "rule", stroke_width=1), label(_LEFT - 6, y + 4.5, words, size=13,
                                                                          anchor="end")]
        if width > NARROW:
            parts.append(label(right + 6, y + 4.5, words, size=13))
    return group(*parts)


def _key(panel: Panel) -> Markup:
    """One line that says what the band, the grey strip and the hollow dots are."""
    write = signed if panel.with_sign else plain
    parts, x = [], 4.0
    if panel.window:
        digits = 0 if all(edge == int(edge) for edge in panel.window) else panel.digits
        words = f"window {write(panel.window[0], digits)} to {write(panel.window[1], digits)}"
        parts += [el("rect", x=x, y=23, width=16, height=10, class_="window", stroke_dasharray="3 3",
                     stroke="currentColor", fill="none"), label(x + 21, 33, words, size=12)]
        x += 32 + 6.2 * len(words)
    if panel.noise is not None and panel.baseline is not None:
        parts += [el("rect", x=x, y=23, width=16, height=10, class_="noise", fill="none"),
                  label(x + 21, 33, "could be chance", size=12)]
        x += 32 + 6.2 * 15
    if any(visit.aided for visit in panel.visits):
        parts += [el("circle", cx=x + 6, cy=28, r=5, class_="hollow", stroke_width=2.5, stroke="currentColor"),
                  label(x + 16, 33, "with aids", size=12)]
        x += 76
    if is_wide(panel):
        parts.append(label(x, 33, "numbers at the dots: balls", size=12))
    return group(*parts, class_="key-line")


def _turns(panel: Panel, across: Scale) -> list[Markup]:
    """A dashed line at each change that is being judged."""
    drawn = []
    for day in panel.turns:
        x = across(day.toordinal())
        if across.start <= x <= across.end:
            drawn.append(group(line(x, _TOP - 8, x, _FLOOR, "accent", stroke_width=1.5, stroke_dasharray="6 4"),
                               label(x + 4, _TOP - 2, "change", "soft halo", size=12, stroke_width=4)))
    return drawn


def _dates(panel: Panel, across: Scale) -> list[Markup]:
    """A tick for every visit, its date where there is room: two lanes, and the year where it turns."""
    words, ticks_drawn, free, year = [], [], [-100.0, -100.0], None
    spans_years = len({day.year for day in panel.days}) > 1
    for day in panel.days:
        x = across(day.toordinal())
        ticks_drawn.append(f"M{x:.1f} {_FLOOR:.0f}v5")
        said = f"{day.day} {day:%b}" + (f" {day:%y}" if spans_years and day.year != year else "")
        lane = min((0, 1), key=lambda lane: free[lane] > x)
        if x >= free[lane]:
            words.append(el("text", said, x=round(x), y=_FLOOR + (20 if lane == 0 else 36)))
            free[lane], year = x + 8.2 * len(said), day.year
    return [_strokes(ticks_drawn, "ink", 1.5), group(*words, font_size=13, text_anchor="middle")]


def _strokes(pieces: list[str], class_: str, width: float, **attributes: object) -> Markup:
    """Many short lines as one path: a picture of sixty visits has hundreds of them."""
    if not pieces:
        return Markup()
    return el("path", d="".join(pieces), class_=class_, fill="none", stroke="currentColor", stroke_width=width,
              **attributes)


def _changes(placed: list[tuple[float, Visit]]) -> Markup:
    """A fine dotted line, with letters under it, where something else was new as well."""
    new = [(x, visit) for x, visit in placed if visit.change]
    if not new:
        return Markup()
    words = [label(x, _FLOOR + 53, letters(visit.change), "strong", size=13, anchor="middle") for x, visit in new]
    lines = [f"M{x:.1f} {_TOP:.0f}V{_FLOOR:.0f}" for x, _ in new]
    return group(_strokes(lines, "edge", 1.5, stroke_dasharray="1.5 4"), *words)


def _whiskers(placed: list[tuple[float, Visit]], up: Scale) -> Markup:
    pieces = []
    for x, visit in placed:
        if visit.mean is not None and visit.interval:
            low, high = (up(edge) for edge in visit.interval)
            pieces.append(f"M{x:.1f} {low:.1f}V{high:.1f}m-5 0h10M{x - 5:.1f} {low:.1f}h10")
    return _strokes(pieces, "ink", 2.5)


def _dots(panel: Panel, placed: list[tuple[float, Visit]], up: Scale) -> Markup:
    """One dot a block; two blocks of a day stand apart."""
    small = is_wide(panel)
    dots = [
        el("circle", cx=round(x, 1), cy=round(up(visit.mean), 1), r=5 if small else 6.5,
           class_="hollow" if visit.aided else "solid")
        for x, visit in placed if visit.mean is not None
    ]
    return group(*dots, stroke="currentColor", stroke_width=2.5 if small else 3)


def _counts(panel: Panel, placed: list[tuple[float, Visit]], up: Scale, taken: list[tuple[float, float]]) -> Markup:
    """How many balls, above each dot; at the foot where there are too few for one."""
    above, few, small = [], [], is_wide(panel)
    for x, visit in placed:
        if visit.mean is None:
            few.append(el("text", f"{visit.n}" if small else f"{visit.n} balls", x=round(x, 1), y=_FLOOR - 8,
                          class_="soft"))
            continue
        top = min([up(visit.mean) - 7, *(up(edge) for edge in visit.interval or ())])
        words = f"{visit.n}" if small else f"n {visit.n}"
        y = _free_place(x, top - 6, 7.2 * len(words), taken)
        above.append(el("text", words, x=round(x), y=round(y), class_="halo"))
    return group(group(*few), group(*above, stroke_width=4), font_size=12, text_anchor="middle")


def _free_place(x: float, y: float, width: float, taken: list[tuple[float, float]]) -> float:
    """Return the height at which a label covers no dot and no earlier label, moved up in steps where it would."""
    while y > _TOP - 6 and any(abs(x - other) < width + 2 and abs(y - high) < 11 for other, high in taken):
        y -= 4
    taken.append((x, y))
    return y


def letters(change: str) -> str:
    """Return the letters for what else was new; a dot for anything without a letter of its own."""
    found = "".join(letter for word, letter in MARKS.items() if word in change)
    return found or "•"


def _marks_key(panel: Panel) -> Markup:
    """Say what the letters under the dates mean, only those that are there."""
    changes = [visit.change for visit in panel.visits if visit.change]
    words = [f"{letter} {'pain reported' if word == 'pain' else 'new ' + word}" for word, letter in MARKS.items()
             if any(word in change for change in changes)]
    words += ["• something else new"] if any(letters(change) == "•" for change in changes) else []
    return label(4, HEIGHT + MARKS_HEIGHT - 6, "\u2003".join(words), "soft", size=12) if words else Markup()


def _aside(panel: Panel, visit: Visit) -> float:
    """How far a dot moves off its date: nothing where it is the day's only one."""
    if sum(other.day == visit.day for other in panel.visits) < 2:
        return 0.0
    step = 5.0 if is_wide(panel) else 8.0
    return step if visit.aided else -step

