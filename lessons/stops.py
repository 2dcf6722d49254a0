"""The running order of a lesson: eight stops, read from top to bottom as the hour goes.

A stop is a module in ``lessons.queries.stops`` with three functions, and a template that draws its body:

    context(lesson) -> dict          everything the template shows, as ``data``
    gist(lesson) -> dict             as much of it as the line needs
    summary(data) -> (line, state)   the one line of the shut stop; state is "", "begun" or "done"

The page and the fragment of a stop are drawn from the same functions, so they cannot disagree. A page draws the
body of the open stop alone; the lines of the others are kept until something is written. No stop blocks another:
the line says what is missing and the coach goes on.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from .models import Lesson
from .queries.stamp import Stamp, stamp_of
from .queries.stops import agree, change, first_ten, greet, look, reason, with_aids, without

KEPT_LESSONS = 64
_kept: dict[str, tuple[str, dict[str, tuple[str, str]]]] = {}
"""Lesson -> (stamp, lines). In this process only: what they rest on is asked of the database each time."""


@dataclass(frozen=True, kw_only=True)
class Stop:
    """One stop of the hour."""

    slug: str
    title: str
    context: Callable[[Lesson], dict[str, Any]]
    gist: Callable[[Lesson], dict[str, Any]]
    summary: Callable[[dict[str, Any]], tuple[str, str]]

    @property
    def template(self) -> str:
        return f"lessons/stops/_{self.slug}.html"


def _stop(slug: str, title: str, module: Any) -> Stop:
    return Stop(slug=slug, title=title, context=module.context, gist=module.gist, summary=module.summary)


STOPS: dict[str, Stop] = {stop.slug: stop for stop in (
    _stop("greet", "Greet", greet), _stop("first_ten", "First ten", first_ten), _stop("look", "Look", look),
    _stop("reason", "Reason", reason), _stop("change", "Change", change), _stop("with_aids", "With aids", with_aids),
    _stop("without", "Without", without), _stop("agree", "Agree", agree),
)}


def draw_stop(*, lesson: Lesson, slug: str, is_open: bool, extra: dict[str, Any] | None = None) -> dict[str, Any]:
    """Return one stop ready for its template; ``extra`` goes over its data, such as a form with errors."""
    stop = STOPS[slug]
    data = {**stop.context(lesson), **(extra or {})}
    return {**_line(lesson, stop, *stop.summary(data)), "template": stop.template, "data": data, "open": is_open}


def shut_stops(lesson: Lesson, *, stamp: Stamp | None = None) -> list[dict[str, Any]]:
    """Return all stops in order, shut: their lines alone. Two queries where nothing was written since they were
    last drawn, about fifteen more otherwise."""
    code, whole = str(lesson.code), (stamp or stamp_of(lesson)).whole
    known = _kept.get(code)
    if known is None or known[0] != whole:
        known = (whole, {slug: stop.summary(stop.gist(lesson)) for slug, stop in STOPS.items()})
        while len(_kept) >= KEPT_LESSONS:
            _kept.pop(next(iter(_kept)), None)
        _kept[code] = known
    return [_line(lesson, stop, *known[1][slug]) for slug, stop in STOPS.items()]


def running_order(
    *, lesson: Lesson, open_slug: str | None = None, extra: dict[str, Any] | None = None, stamp: Stamp | None = None
) -> list[dict[str, Any]]:
    """Return all stops in order. The wanted one is open; where none is wanted, the first that is not done."""
    order = shut_stops(lesson, stamp=stamp)
    wanted = open_slug if open_slug in STOPS else next((s["slug"] for s in order if s["state"] != "done"), None)
    return [
        draw_stop(lesson=lesson, slug=stop["slug"], is_open=True, extra=extra) if stop["slug"] == wanted else stop
        for stop in order
    ]


def _line(lesson: Lesson, stop: Stop, line: str, state: str) -> dict[str, Any]:
    marked = stop.slug in lesson.done_stops
    return {
        "slug": stop.slug, "title": stop.title, "line": line, "state": "done" if marked else state, "marked": marked,
        "data": None, "open": False,
    }
