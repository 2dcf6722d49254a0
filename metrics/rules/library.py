"""The library as a whole: plain documents in, one checked ``Library`` out."""

from collections.abc import Callable, Iterable, Mapping
from typing import TypeVar

from metrics.checkpoints import CHECKPOINTS
from metrics.clubs import CATEGORIES
from metrics.rules.parse_patterns import parse_pattern
from metrics.rules.reader import LibraryError, Reader
from metrics.rules.records import (
    BodyCaution,
    Drill,
    Library,
    SafetyText,
    SetupEffect,
    SetupWindow,
)
from metrics.windows import INTENTS

T = TypeVar("T")
PATTERNS = "patterns"
DOCUMENTS = ("drills", "setup_windows", "setup_effects", "body_cautions", "safety")


def parse_library(*, documents: Mapping[str, object]) -> Library:
    """Read the library from its documents, as ``json.load`` gives them.

    ``documents`` maps a document's name (the path under ``fixtures/library`` without ``.json``) to its list.
    Every name that starts with ``patterns`` or ``drills`` is read as patterns or drills, so an academy's own
    can be added as ``patterns/own``. Raises LibraryError with a sentence that says where, what was found and
    what was expected.
    """
    missing = [name for name in DOCUMENTS if name not in documents]
    if missing or not any(name.startswith(PATTERNS) for name in documents):
        raise LibraryError(f"The library lacks {', '.join(missing or [PATTERNS])}; expected "
                           f"{', '.join((PATTERNS, *DOCUMENTS))}.")
    library = Library(
        patterns=_keyed(_all(documents, PATTERNS, lambda row, where: parse_pattern(row, where=where)), "slug"),
        drills=_keyed(_all(documents, "drills", _parse_drill), "slug"),
        windows=tuple(_all(documents, "setup_windows", _parse_window)),
        effects=tuple(_all(documents, "setup_effects", _parse_effect)),
        cautions=_keyed(_all(documents, "body_cautions", _parse_body_caution), "area"),
        safety=_keyed(_all(documents, "safety", _parse_safety), "key"),
    )
    _cross_check(library)
    return library


def _all(documents: Mapping[str, object], prefix: str, parse: Callable[[object, str], T]) -> list[T]:
    found: list[T] = []
    for name, rows in documents.items():
        if name != prefix and not name.startswith(prefix + "/"):
            continue
        if not isinstance(rows, list):
            raise LibraryError(f"{name}: expected a list of objects.")
        found += [parse(row, f"{name}[{i}]") for i, row in enumerate(rows)]
    return found


def _keyed(records: Iterable[T], attribute: str) -> dict[str, T]:
    keyed: dict[str, T] = {}
    for record in records:
        key = getattr(record, attribute)
        if key in keyed:
            raise LibraryError(f"{attribute} {key!r} is there twice; expected it once.")
        keyed[key] = record
    return keyed


def _cross_check(library: Library) -> None:
    """Every slug a record points to must exist."""
    for pattern in library.patterns.values():
        _known(pattern.slug, "drills", pattern.drills, library.drills)
        _known(pattern.slug, "covered_by", pattern.covered_by, library.patterns)
        _known(pattern.slug, "held_back_by", pattern.held_back_by, library.patterns)
        _known(pattern.slug, "avoid_areas", pattern.avoid_areas, library.cautions)
    for drill in library.drills.values():
        _known(drill.slug, "patterns", drill.patterns, library.patterns)
        _known(drill.slug, "not_for", drill.not_for, library.patterns)
        _known(drill.slug, "areas", drill.areas, library.cautions)


def _known(owner: str, key: str, slugs: Iterable[str], known: Mapping[str, object]) -> None:
    for slug in slugs:
        if slug not in known:
            raise LibraryError(f"{owner}: '{key}' names {slug!r}, which the library does not have.")


def _parse_drill(data: object, where: str) -> Drill:
    """Read one drill."""
    r = Reader(data, where)
    r.where = f"{where}, {r.text('slug')}"
    drill = Drill(
        slug=r.text("slug"), code=r.text("code"), name=r.text("name"), why=r.text("why"),
        patterns=r.texts("patterns"), kit=r.texts("kit"), places=r.texts("places", required=True),
        minutes=r.whole("minutes"), balls=r.whole("balls"), dose=r.text("dose"), setup=r.text("setup"),
        steps=r.texts("steps", required=True), harder=r.text("harder"), easier=r.text("easier"),
        cue=r.text("cue"), measure=r.text("measure"), pass_mark=r.text("pass_mark"),
        caution=r.text("caution"), areas=r.texts("areas"), gentle=r.flag("gentle"),
        not_for=r.texts("not_for"), mark=r.mark(), source=r.text("source"),
    )
    r.done()
    return drill


def _parse_window(data: object, where: str) -> SetupWindow:
    """Read one setup window; ``range`` is its low and high edge."""
    r = Reader(data, where)
    limits = r.pair("range")
    if limits is None:
        raise r.fail("range", "two numbers, the lower one first")
    window = SetupWindow(
        club=r.choice("club", tuple(CATEGORIES)), checkpoint=r.choice("checkpoint", tuple(CHECKPOINTS)),
        intent=r.choice("intent", ("", *INTENTS), ""), lie=r.choice("lie", ("", "tee", "turf"), ""),
        basis=r.choice("basis", ("value", "centre_widths"), "value"), low=limits[0], high=limits[1],
        words=r.text("words", ""), mark=r.mark(), source=r.text("source"),
    )
    r.done()
    return window


def _parse_effect(data: object, where: str) -> SetupEffect:
    """Read one effect of a setup change."""
    r = Reader(data, where)
    limits = r.pair("range")
    effect = SetupEffect(
        checkpoint=r.choice("checkpoint", tuple(CHECKPOINTS)), step=r.number("step"),
        quantity=r.text("quantity"), unit=r.text("unit", ""), low=limits[0] if limits else None,
        high=limits[1] if limits else None, model=r.text("model", ""),
        reach=r.optional_number("reach"), clubs=r.texts("clubs", allowed=CATEGORIES),
        watch=r.text("watch"), mark=r.mark(), source=r.text("source"),
    )
    r.done()
    if (limits is None) == (not effect.model) or effect.step == 0:
        raise LibraryError(f"{where}: expected a step other than 0 and either 'range' or 'model'.")
    if effect.reach is not None and effect.reach < abs(effect.step):
        raise LibraryError(f"{where}: 'reach' is {effect.reach:g}; expected at least one step.")
    return effect


def _parse_body_caution(data: object, where: str) -> BodyCaution:
    """Read one body caution."""
    r = Reader(data, where)
    caution = BodyCaution(area=r.text("area"), label=r.text("label"), avoid=r.text("avoid"),
                          instead=r.text("instead"), mark=r.mark(), source=r.text("source"))
    r.done()
    return caution


def _parse_safety(data: object, where: str) -> SafetyText:
    """Read one duty-of-care text."""
    r = Reader(data, where)
    text = SafetyText(key=r.text("key"), trigger=r.text("trigger"), text=r.text("text"),
                      offers=r.texts("offers"), mark=r.mark(), source=r.text("source"))
    r.done()
    return text

