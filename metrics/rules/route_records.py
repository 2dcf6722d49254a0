"""What a condition and a route are: the data by which a pattern is seen."""

from dataclasses import dataclass
from typing import Literal, get_args

from metrics.method import Mark

Statistic = Literal["mean", "sd", "sd_over_prior", "cv", "cv_over_prior", "mean_abs", "share", "both_sides",
                    "minus_own_median", "percent_of_own_median", "setup", "change", "drift", "aid_gap",
                    "given_back", "lie_from_starts"]
STATISTICS: tuple[str, ...] = get_args(Statistic)
Comparator = Literal["above", "below", "inside", "outside"]
Role = Literal["trigger", "discriminator", "support", "veto"]
"""A trigger is judged with its interval, a discriminator by its value; support only adds words; a veto, where it
is known and holds, silences the route."""
RouteKind = Literal["numbers", "calls", "setup", "change", "pair"]


@dataclass(frozen=True, kw_only=True)
class CallMatch:
    """Which called balls count: each list names the accepted calls; an empty list accepts anything."""

    start: tuple[int, ...] = ()
    curve: tuple[int, ...] = ()
    height: tuple[str, ...] = ()
    contact: tuple[str, ...] = ()
    done: bool | None = None


@dataclass(frozen=True, kw_only=True)
class Condition:
    """One test of one quantity.

    ``above``/``below``: past ``watch``, strong past ``strong``. ``inside``/``outside``: the statistic against
    ``low``..``high``. ``relative_to`` "window_top"/"window_bottom" adds the edge of the intent window to watch
    and strong; "window" takes the intent window as low..high. ``share`` counts balls past ``cut``
    (``cut_side``) or called as ``calls`` says; it is certain where its interval lies past ``normal_share``.
    ``only_certain``: a value past watch counts only if its whole interval is. ``unresolved`` is said where
    this condition holds but a column for the others is missing.
    """

    quantity: str
    statistic: Statistic
    comparator: Comparator
    role: Role
    watch: float | None
    strong: float | None
    low: float | None
    high: float | None
    relative_to: Literal["", "window_top", "window_bottom", "window"]
    cut: float | None
    cut_side: Literal["above", "below"]
    normal_share: float | None
    calls: CallMatch | None
    clubs: tuple[str, ...]
    intents: tuple[str, ...]
    only_certain: bool
    unresolved: str
    mark: Mark
    source: str


@dataclass(frozen=True, kw_only=True)
class Route:
    """One way to see a pattern: all its triggers and discriminators must hold. A pattern needs one route.

    Supported needs ``minimum_n`` balls, a hint ``hint_n`` (at least the five below which nothing is said).
    """

    key: str
    kind: RouteKind
    minimum_n: int
    hint_n: int
    ceiling: Literal["hint", "supported"]
    clubs: tuple[str, ...]
    intents: tuple[str, ...]
    conditions: tuple[Condition, ...]
    comes_first: bool
