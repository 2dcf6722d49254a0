"""The running order of a lesson: eight stops, read from top to bottom as the hour goes.

A stop is a module in ``lessons.queries.stops`` with two functions, and a template that draws its body:

    context(lesson) -> dict          everything the template shows, as ``data``
    summary(data) -> (line, state)   the one line of the shut stop; state is "", "begun" or "done"

The page and the fragment of a stop are drawn from the same two functions, so they cannot disagree. No stop
blocks another: the line says what is missing and the coach goes on.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from .models import Lesson
from .queries.stops import agree, change, first_ten, greet, look, reason, with_aids, without


@dataclass(frozen=True, kw_only=True)
class Stop:
    """One stop of the hour."""

    slug: str
    title: str
    context: Callable[[Lesson], dict[str, Any]]
    summary: Callable[[dict[str, Any]], tuple[str, str]]

    @property
    def template(self) -> str:
        return f"lessons/stops/_{self.slug}.html"


STOPS: dict[str, Stop] = {stop.slug: stop for stop in (
    Stop(slug="greet", title="Greet", context=greet.context, summary=greet.summary),
    Stop(slug="first_ten", title="First ten", context=first_ten.context, summary=first_ten.summary),
    Stop(slug="look", title="Look", context=look.context, summary=look.summary),
    Stop(slug="reason", title="Reason", context=reason.context, summary=reason.summary),
    Stop(slug="change", title="Change", context=change.context, summary=change.summary),
    Stop(slug="with_aids", title="With aids", context=with_aids.context, summary=with_aids.summary),
    Stop(slug="without", title="Without", context=without.context, summary=without.summary),
    Stop(slug="agree", title="Agree", context=agree.context, summary=agree.summary),
)}


def draw_stop(*, lesson: Lesson, slug: str, is_open: bool, extra: dict[str, Any] | None = None) -> dict[str, Any]:
    """Return one stop ready for its template; ``extra`` goes over its data, such as a form with errors."""
    stop = STOPS[slug]
    data = {**stop.context(lesson), **(extra or {})}
    line, state = stop.summary(data)
    marked = slug in lesson.done_stops
    return {
        "slug": slug, "title": stop.title, "template": stop.template, "data": data, "line": line,
        "state": "done" if marked else state, "marked": marked, "open": is_open,
    }


def running_order(
    *, lesson: Lesson, open_slug: str | None = None, extra: dict[str, Any] | None = None
) -> list[dict[str, Any]]:
    """Return all stops in order. The wanted one is open; where none is wanted, the first that is not done."""
    order = [
        draw_stop(lesson=lesson, slug=slug, is_open=False, extra=extra if slug == open_slug else None)
        for slug in STOPS
    ]
    wanted = open_slug if open_slug in STOPS else next((s["slug"] for s in order if s["state"] != "done"), None)
    for stop in order:
        stop["open"] = stop["slug"] == wanted
    return order
