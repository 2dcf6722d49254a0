"""Reading the library: browse, search, one pattern, one drill, the setup windows of one kind of club."""

from dataclasses import dataclass
from typing import Any

from django.db.models import Q, QuerySet

from academy.models import Coach, Student
from lessons.library import as_laid, current_library, fits, shipped_library, stored_library
from lessons.models import LibraryEntry, Override
from metrics.checkpoints import CHECKPOINTS
from metrics.clubs import CATEGORIES
from metrics.rules.quantities import info
from metrics.rules.records import GROUPS, Drill, Pattern, SetupWindow
from metrics.rules.words import number, span, unit_suffix

GROUP_WORDS = {"contact": "Contact", "aim": "Aim and setup", "face": "Face", "path": "Path", "speed": "Speed",
               "practice": "Practice"}
ROUTE_WORDS = {"numbers": "by numbers", "calls": "called by eye", "setup": "from the setup",
               "change": "after a setup change", "pair": "with and without aids"}
EVERY, OTHERS = "every", "others"
"""For which flights an override counts: all, or those without a window of their own; else the flight's name."""
LIES = {EVERY: "tee and turf", "tee": "from a tee", "turf": "off the turf"}
BOTH_WAYS = frozenset({"fairway", "hybrid_long_iron", "mid_iron", "short_iron"})
"""Clubs that are struck from a tee and off the turf."""


@dataclass(frozen=True, kw_only=True)
class WindowRow:
    """A shipped window and what is laid over it. ``flights`` and ``lies`` are the choices an override has."""

    window: SetupWindow
    label: str
    when: str
    shipped: str
    ours: list[Override]
    flights: list[tuple[str, str]]
    lies: list[tuple[str, str]]


@dataclass(frozen=True, kw_only=True)
class Threshold:
    """One number of a pattern that a coach may set differently."""

    target: str
    route: str
    label: str
    words: str
    watch: float
    strong: float | None
    unit: str
    mark: str
    source: str
    ours: list[Override]


def browse(*, words: str = "", place: str = "") -> dict[str, Any]:
    """Return patterns by group and drills, those only that hold every word and fit the place. Two queries."""
    library = stored_library()
    asked = words.lower().split()
    patterns = [p for p in library.patterns.values() if _holds(asked, _pattern_text(p))]
    drills = [d for d in library.drills.values()
              if _holds(asked, _drill_text(d)) and (not place or place in d.places)]
    own = set(LibraryEntry.objects.filter(is_own=True, retired_at__isnull=True).values_list("kind", "slug"))
    return {
        "words": words, "place": place, "own_patterns": {slug for kind, slug in own if kind == "pattern"},
        "own_drills": {slug for kind, slug in own if kind == "drill"},
        "groups": [(GROUP_WORDS[group], [p for p in patterns if p.group == group]) for group in GROUPS
                   if any(p.group == group for p in patterns)],
        "drills": drills, "clubs": list(CATEGORIES.items()), "entries": len(patterns) + len(drills),
        "places": sorted({place for d in library.drills.values() for place in d.places}),
    }


def pattern_page(*, slug: str, coach: Coach) -> dict[str, Any] | None:
    """Return one pattern with its thresholds, checks and drills; None where there is none. Four queries."""
    library = stored_library()
    pattern = library.patterns.get(slug)
    if pattern is None:
        return None
    ours = overrides_seen_by(coach).filter(kind="pattern", slug=slug)
    checks = [(check, CHECKPOINTS.get(check.checkpoint)) for check in pattern.checks]
    return {
        "pattern": pattern, "group": GROUP_WORDS[pattern.group], "clubs": [CATEGORIES[c] for c in pattern.clubs],
        "thresholds": thresholds(pattern, list(ours)), "checks": checks,
        "drills": [library.drills[name] for name in pattern.drills], "students": students_of(coach),
        **_ownership(slug),
    }


def _ownership(slug: str) -> dict[str, Any]:
    """Return whether a pattern is the academy's own and, where it took a shipped one's place, that one. One query."""
    is_own = LibraryEntry.objects.filter(kind="pattern", slug=slug, is_own=True).exists()
    shipped = shipped_library().patterns.get(slug) if is_own else None
    return {"is_own": is_own, "shipped": shipped, "shipped_thresholds": thresholds(shipped, []) if shipped else []}


def drill_page(*, slug: str) -> dict[str, Any] | None:
    """Return one drill as its card; None where there is none. Two queries."""
    library = current_library()
    drill = library.drills.get(slug)
    if drill is None:
        return None
    return {
        "drill": drill, "patterns": [library.patterns[name] for name in drill.patterns],
        "not_for": [library.patterns[name] for name in drill.not_for],
        "areas": [library.cautions[area].label for area in drill.areas],
        "is_own": LibraryEntry.objects.filter(kind="drill", slug=slug, is_own=True).exists(),
    }


def windows_page(*, club: str, coach: Coach) -> dict[str, Any] | None:
    """Return the setup windows of one kind of club with what is laid over them. Four queries."""
    if club not in CATEGORIES:
        return None
    library = stored_library()
    ours = list(overrides_seen_by(coach).filter(kind="window", slug__startswith=f"{club}/"))
    windows = [w for w in library.windows if w.club == club]
    return {
        "club": club, "name": CATEGORIES[club], "clubs": list(CATEGORIES.items()),
        "rows": [_window_row(w, windows, ours) for w in windows], "students": students_of(coach),
        "lost": [row for row in ours if not fits(as_laid(row), library=library)],
    }


def overrides_seen_by(coach: Coach, *, removed: bool = False) -> QuerySet:
    """Return the overrides in force that this person may see: the academy's, and those of the own students."""
    rows = Override.objects.filter(Q(student__isnull=True) | Q(student__coach=coach))
    rows = rows if removed else rows.filter(removed_at__isnull=True)
    return rows.select_related("student", "created_by")


def students_of(coach: Coach) -> list[Student]:
    """Return the students this person teaches. One query."""
    return list(Student.objects.filter(coach=coach).here().only("code", "name"))


def thresholds(pattern: Pattern, ours: list[Override]) -> list[Threshold]:
    """Return the numbers of a pattern at which it begins to speak."""
    found: dict[str, Threshold] = {}
    for route in pattern.routes:
        for c in route.conditions:
            if c.watch is None or c.role not in ("trigger", "discriminator"):
                continue
            target = f"threshold/{pattern.slug}/{route.key}/{c.quantity}"
            unit = "" if c.statistic in ("share", "both_sides", "cv_over_prior", "sd_over_prior") else (
                info(c.quantity).unit if c.quantity else "")
            found.setdefault(target, Threshold(
                target=target, route=_route_words(route), label=info(c.quantity).label, unit=unit, watch=c.watch,
                strong=c.strong, mark=c.mark, source=c.source, words=_condition_words(c, unit),
                ours=[row for row in ours if row.path == target],
            ))
    return list(found.values())


def _route_words(route: Any) -> str:
    kind = ROUTE_WORDS[route.kind]
    clubs = f", {' and '.join(CATEGORIES[club].lower() for club in route.clubs)}" if route.clubs else ""
    return f"{' or '.join(route.intents)} wanted, {kind}{clubs}" if route.intents else f"{kind}{clubs}"


def _condition_words(c: Any, unit: str) -> str:
    statistic = c.statistic.replace("_", " ")
    relative = {"window_top": " beyond the top of the window", "window_bottom": " beyond the bottom of the window"}
    strong = f", strong {number(c.strong, digits=2 if abs(c.strong) < 1 else 1)}" if c.strong is not None else ""
    watch = number(c.watch, digits=2 if abs(c.watch) < 1 else 1)
    return f"{statistic} {c.comparator} {watch}{strong}{unit_suffix(unit)}{relative.get(c.relative_to, '')}"


def _window_row(window: SetupWindow, windows: list[SetupWindow], ours: list[Override]) -> WindowRow:
    point = CHECKPOINTS[window.checkpoint]
    path = f"window/{window.club}/{window.checkpoint}"
    shipped = span(window.checkpoint, limits=(window.low, window.high)) if window.basis == "value" else (
        f"{number(window.low, digits=1)} to {number(window.high, digits=1)} ball widths from the middle, + back")
    when = ", ".join(word for word in (f"{window.intent} wanted" if window.intent else "", window.lie) if word)
    intents = sorted({w.intent for w in windows if w.checkpoint == window.checkpoint and w.intent})
    flights = [(EVERY, "every flight"), *([(OTHERS, "straight")] if intents else []), *((i, i) for i in intents)]
    mine = [row for row in ours if row.path == path and row.value.get("intent") in (None, window.intent)
            and (not window.lie or row.value.get("lie") in (None, window.lie))]
    return WindowRow(window=window, label=point.label, when=when, shipped=shipped, ours=mine, flights=flights,
                     lies=list(LIES.items()) if window.club in BOTH_WAYS else [])


def _holds(asked: list[str], text: str) -> bool:
    return all(word in text for word in asked)


def _pattern_text(p: Pattern) -> str:
    return " ".join([p.slug, p.code, p.title, p.seen, p.mechanism, p.caution,
                     *(check.title for check in p.checks)]).lower().replace("{slice_side}", "slice side").replace(
                         "{hook_side}", "hook side")


def _drill_text(d: Drill) -> str:
    return " ".join([d.slug, d.code, d.name, d.why, d.setup, d.cue, d.measure, *d.kit, *d.places, *d.steps]).lower()


