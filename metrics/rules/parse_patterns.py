"""Plain data -> patterns, routes and conditions, each number with its mark."""

from typing import Any, cast, get_args

from metrics.checkpoints import CHECKPOINTS
from metrics.clubs import CATEGORIES
from metrics.rules.reader import LibraryError, Reader
from metrics.rules.records import GROUPS, Expectation, OverCorrection, Pattern, Retest, SetupCheck, Warning
from metrics.rules.route_records import STATISTICS, CallMatch, Condition, Role, Route
from metrics.rules.types import CONTACTS
from metrics.windows import INTENTS


def parse_pattern(data: object, *, where: str) -> Pattern:
    """Read one pattern; a LibraryError says what is wrong and where."""
    r = Reader(data, where)
    r.where = f"{where}, {r.text('slug')}"
    minimum = r.whole("minimum_n")
    pattern = Pattern(
        slug=r.text("slug"), code=r.text("code"), title=r.text("title"), group=r.choice("group", GROUPS),
        clubs=r.texts("clubs", allowed=CATEGORIES, required=True), minimum_n=minimum,
        plain=r.text("plain", ""), seen=r.text("seen"), mechanism=r.text("mechanism"),
        routes=tuple(_route(item, minimum) for item in r.items("routes", required=True)),
        checks=tuple(_check(item) for item in r.items("checks", required=True)),
        expect=tuple(_expectation(item) for item in r.items("expect", required=True)),
        over_correction=_over_correction(r.item("over_correction")), retest=_retest(r.item("retest")),
        caution=r.text("caution"), avoid_areas=r.texts("avoid_areas"),
        warnings=tuple(_warning(item) for item in r.items("warnings")),
        drills=r.texts("drills", required=True), covered_by=r.texts("covered_by"),
        held_back_by=r.texts("held_back_by"), mark=r.mark(), source=r.text("source"),
    )
    r.done()
    return pattern


def _route(r: Reader, minimum: int) -> Route:
    kind = r.choice("kind", ("numbers", "calls", "setup", "change", "pair"))
    route = Route(
        key=r.text("key"), kind=kind, minimum_n=r.whole("minimum_n", minimum), hint_n=r.whole("hint_n", 0),
        ceiling=r.choice("ceiling", ("hint", "supported"), "hint" if kind == "calls" else "supported"),
        clubs=r.texts("clubs", allowed=CATEGORIES), intents=r.texts("intents", allowed=INTENTS),
        conditions=tuple(_condition(item) for item in r.items("conditions", required=True)),
        comes_first=r.flag("comes_first"),
    )
    r.done()
    if not any(c.role == "trigger" for c in route.conditions):
        raise LibraryError(f"{r.where}: no condition has the role 'trigger'; expected at least one.")
    return route


def _condition(r: Reader) -> Condition:
    statistic = r.choice("statistic", STATISTICS)
    condition = Condition(
        quantity=r.text("quantity"), statistic=statistic,
        comparator=r.choice("comparator", ("above", "below", "inside", "outside")),
        role=r.choice("role", get_args(Role)),
        watch=r.optional_number("watch"), strong=r.optional_number("strong"),
        low=r.optional_number("low"), high=r.optional_number("high"),
        relative_to=r.choice("relative_to", ("", "window_top", "window_bottom", "window"), ""),
        cut=r.optional_number("cut"), cut_side=r.choice("cut_side", ("above", "below"), "above"),
        normal_share=r.optional_number("normal_share"), calls=_calls(r),
        clubs=r.texts("clubs", allowed=CATEGORIES), intents=r.texts("intents", allowed=INTENTS),
        only_certain=r.flag("only_certain"), unresolved=r.text("unresolved", ""),
        mark=r.mark(), source=r.text("source"),
    )
    r.done()
    _refuse_half_condition(condition, r.where)
    return condition


def _refuse_half_condition(c: Condition, where: str) -> None:
    ranged = c.comparator in ("inside", "outside")
    if ranged and c.relative_to != "window" and (c.low is None or c.high is None):
        raise LibraryError(f"{where}: comparator {c.comparator!r} without 'low' and 'high'; expected both.")
    if not ranged and c.watch is None:
        raise LibraryError(f"{where}: comparator {c.comparator!r} without 'watch'; expected a number.")
    if c.strong is not None and c.watch is not None:
        farther = c.strong >= c.watch if c.comparator == "above" else c.strong <= c.watch
        if not farther:
            raise LibraryError(f"{where}: 'strong' {c.strong:g} lies before 'watch' {c.watch:g}; "
                               "expected it further out.")
    if c.statistic == "share" and (c.normal_share is None or (c.cut is None) == (c.calls is None)):
        raise LibraryError(f"{where}: a share needs 'normal_share' and either 'cut' or 'calls'.")


def _calls(r: Reader) -> CallMatch | None:
    if not r.has("calls"):
        r.raw("calls")
        return None
    c = r.item("calls")
    match = CallMatch(start=_wholes(c, "start"), curve=_wholes(c, "curve"),
                      height=c.texts("height", allowed=("low", "mid", "high")),
                      contact=c.texts("contact", allowed=CONTACTS),
                      done=cast(bool | None, c.raw("done")))
    c.done()
    return match


def _wholes(r: Reader, key: str) -> tuple[int, ...]:
    value: Any = r.raw(key, [])
    if not isinstance(value, list) or not all(isinstance(v, int) and -2 <= v <= 2 for v in value):
        raise r.fail(key, "a list of whole numbers from -2 to 2")
    return tuple(value)


def _check(r: Reader) -> SetupCheck:
    check = SetupCheck(
        checkpoint=r.text("checkpoint"), title=r.text("title"),
        side=r.choice("side", ("above", "below", "either"), "either"), window=r.pair("window"),
        clubs=r.texts("clubs", allowed=CATEGORIES), reason=r.text("reason"), over_doing=r.text("over_doing"),
        then_check=r.text("then_check", ""), mark=r.mark(), source=r.text("source"),
    )
    r.done()
    if check.then_check and check.then_check not in CHECKPOINTS:
        raise LibraryError(f"{r.where}: 'then_check' names {check.then_check!r}; expected a checkpoint.")
    return check


def _expectation(r: Reader) -> Expectation:
    low, high = r.pair("range") or (0.0, 0.0)
    if not r.has("range"):
        raise r.fail("range", "two numbers, the lower one first")
    item = Expectation(quantity=r.text("quantity"), unit=r.text("unit", ""), low=low, high=high,
                       when=r.text("when"), mark=r.mark(), source=r.text("source"))
    r.done()
    return item


def _over_correction(r: Reader) -> OverCorrection:
    item = OverCorrection(quantity=r.text("quantity"),
                          side=r.choice("side", ("above", "below", "watch for")),
                          value=r.optional_number("value"), text=r.text("text"), mark=r.mark(),
                          source=r.text("source"))
    r.done()
    return item


def _retest(r: Reader) -> Retest:
    item = Retest(with_aids=r.whole("with_aids", 0), no_aids=r.whole("no_aids"), text=r.text("text"),
                  mark=r.mark(), source=r.text("source"))
    r.done()
    return item


def _warning(r: Reader) -> Warning:
    item = Warning(when=r.text("when"), text=r.text("text"))
    r.done()
    return item
