"""The academy's and the player's own windows and thresholds, laid over the shipped ones without losing them."""

from collections.abc import Sequence
from dataclasses import replace

from metrics.rules.records import Library, Pattern
from metrics.rules.route_records import Condition, Route
from metrics.rules.types import Override


class OverrideError(ValueError):
    """An override names nothing that exists, or lacks its values; the message says which and what was expected."""


def layer(*, library: Library, overrides: Sequence[Override]) -> Library:
    """Return the library as it counts with the overrides; ``library`` itself keeps the shipped values.

    Academy overrides are laid first, the player's after them, each kind in the order given. Raises
    OverrideError for an override that changes nothing or has no reason.
    """
    for override in sorted(overrides, key=lambda o: o.scope == "player"):
        library = _laid(library, override)
    return library


def _laid(library: Library, override: Override) -> Library:
    if not override.reason.strip():
        raise OverrideError(f"{override.target}: the reason is empty; expected one, so that it can be argued with.")
    kind, *parts = override.target.split("/")
    if kind == "window" and len(parts) == 2:
        return _laid_window(library, override, parts[0], parts[1])
    if kind == "threshold" and len(parts) == 3:
        return _laid_threshold(library, override, parts)
    raise OverrideError(f"{override.target!r} was not understood; expected window/CLUB/CHECKPOINT or "
                        "threshold/PATTERN/ROUTE/QUANTITY.")


def _laid_window(library: Library, override: Override, club: str, checkpoint: str) -> Library:
    if override.low is None or override.high is None or override.low > override.high:
        raise OverrideError(f"{override.target}: a window needs 'low' and 'high', the lower one first.")

    low, high = float(override.low), float(override.high)
    source = f"{override.scope}: {override.reason}"
    here = [w for w in library.windows if (w.club, w.checkpoint) == (club, checkpoint)]
    meant = [w for w in here if override.intent in (None, w.intent) and override.lie in (None, w.lie)]
    if meant:
        windows = tuple(replace(w, low=low, high=high, basis="value", source=source) if w in meant else w
                        for w in library.windows)
    else:
        # The shipped window holds for every flight, or for tee and turf: the wish for one gets a row of its own.
        base = [w for w in here if w.intent in ("", override.intent) and w.lie in ("", override.lie)]
        added = [replace(w, intent=override.intent or w.intent, lie=override.lie or w.lie, low=low, high=high,
                         basis="value", source=source) for w in base[:1]]
        windows = (*library.windows, *added)
    if windows == library.windows:
        raise OverrideError(f"{override.target}: the library has no such window, or it already has these values.")
    return replace(library, windows=windows)


def _laid_threshold(library: Library, override: Override, parts: list[str]) -> Library:
    slug, route_key, quantity = parts
    pattern = library.patterns.get(slug)
    if pattern is None or override.watch is None:
        raise OverrideError(f"{override.target}: expected a pattern of the library and a value for 'watch'.")
    changed = replace(pattern, routes=tuple(_route(r, override, route_key, quantity) for r in pattern.routes))
    if changed == pattern:
        raise OverrideError(f"{override.target}: no condition there has this quantity, or it already has "
                            "these values.")
    return replace(library, patterns={**library.patterns, slug: _checked(changed, override)})


def _route(route: Route, override: Override, key: str, quantity: str) -> Route:
    if route.key != key:
        return route
    return replace(route, conditions=tuple(_condition(c, override, quantity) for c in route.conditions))


def _condition(c: Condition, override: Override, quantity: str) -> Condition:
    if c.quantity != quantity or c.watch is None:
        return c
    return replace(c, watch=override.watch, strong=override.strong if override.strong is not None else c.strong,
                   source=f"{override.scope}: {override.reason}")


def _checked(pattern: Pattern, override: Override) -> Pattern:
    for c in (c for r in pattern.routes for c in r.conditions):
        if c.watch is not None and c.strong is not None:
            farther = c.strong >= c.watch if c.comparator == "above" else c.strong <= c.watch
            if not farther:
                raise OverrideError(f"{override.target}: strong {c.strong:g} would lie before watch {c.watch:g}; "
                                    "expected it further out.")
    return pattern
