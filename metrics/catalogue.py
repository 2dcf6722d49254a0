"""Every number the program computes, in one list: formula, unit, range, source and how well it is supported."""

from collections.abc import Iterable
from dataclasses import dataclass

from metrics.change.methods import METHODS as CHANGE
from metrics.flight.methods import METHODS as FLIGHT
from metrics.handicap.methods import METHODS as HANDICAP
from metrics.method import Mark, Method
from metrics.photo.methods import METHODS as PHOTO
from metrics.plans.methods import METHODS as PLANS
from metrics.rules.methods import METHODS as RULES
from metrics.shortgame.methods import METHODS as SHORT_GAME

_TEXTBOOK = "any statistics textbook; held to scipy or statsmodels in the tests"

OTHERS: tuple[Method, ...] = (
    Method(key="slope", label="Slope over the balls of a visit", unit="of the number, per ball",
           formula="least squares over the order struck; p from Student’s t with n − 2",
           valid_range="3 balls or more", source=_TEXTBOOK, mark="source",
           function="metrics.change.drift.slope_test"),
    Method(key="lag_one", label="Likeness of one ball to the next (r)", unit="",
           formula="Σ(xᵢ − x̄)(xᵢ₊₁ − x̄) / Σ(xᵢ − x̄)², pooled over visits",
           valid_range="2 balls or more; leans low by about 1/n", source=_TEXTBOOK, mark="source",
           function="metrics.change.model.lag1"),
    Method(key="mean_of_visits", label="Mean of several visits", unit="of the number",
           formula="mean of the visits’ means, each visit counted once", valid_range="1 visit or more",
           source="the day is shared by all balls of a visit", mark="computed",
           function="metrics.change.visits.mean_of_visits"),
    Method(key="kept_same_day", label="Share of a block’s distance that stays the same day", unit="share",
           formula="k² / (k² + 1/n)", valid_range="1 ball or more", source="derived from the visit model",
           mark="computed", function="metrics.change.regression.share_kept_same_day"),
    Method(key="own_weight", label="Weight of the player’s own results", unit="share", formula="n / (n + 3)",
           valid_range="0 repeats or more", source="shrinkage; the 3 is a choice", mark="common practice",
           function="metrics.change.responses.own_weight"),
    Method(key="smallest_design", label="Smallest plan of visits that can show a change", unit="visits",
           formula="the fewest visits a side whose power reaches 80 %", valid_range="2 to 12 visits a side",
           source="derived from the standard error; 80 % is common practice", mark="computed",
           function="metrics.change.settle.smallest_design"),
    Method(key="rate", label="Rate: mishits, clean contacts, made putts", unit="share",
           formula="hits / balls, with Wilson’s interval", valid_range="1 ball or more", source=_TEXTBOOK,
           mark="source", function="metrics.spread.rate"),
    Method(key="evidence_number", label="What a pattern’s evidence looks at", unit="as the quantity",
           formula="mean, spread, share past a limit, rarer of two sides, or change, each with its 80 % interval",
           valid_range="5 balls or more of one club, intent and aid state; mishits out of means and spreads",
           source="Student t, Wilson and chi-square intervals; the limits are teaching practice", mark="computed",
           function="metrics.rules.estimates.estimate"),
    Method(key="block_difference", label="Difference of two blocks", unit="as the quantity",
           formula="x̄₂ − x̄₁ ± t √(s₁²/n₁ + s₂²/n₂), Welch’s degrees of freedom", valid_range="2 balls a side or more",
           source="Welch 1947, any textbook", mark="source", function="metrics.rules.pairs.difference"),
    Method(key="aid_gap_rules", label="Aid gap and share given back, for the rules", unit="as the quantity; %",
           formula="|no-aid − window| − |with-aid − window|; 100 (end − next) / (end − baseline)",
           valid_range="2 balls a side or more; a gain of 0.88 spreads or more", source="common practice, no source",
           mark="common practice", function="metrics.rules.pairs.of_pair"),
    Method(key="clean_contact", label="Share of clean contacts", unit="share", formula="clean / called",
           valid_range="5 called contacts or more", source="counting", mark="common practice",
           function="metrics.rules.ordering.clean_share"),
    Method(key="rules_mishit", label="Mishit, as the rules leave it out", unit="balls",
           formula="called a mishit, or carry or smash far below the own median", valid_range="1 ball or more",
           source="common practice, no source", mark="common practice", function="metrics.rules.mishits.mishits"),
    Method(key="ball_width", label="Effect of moving the ball by its own width", unit="°",
           formula="difference of path and attack at two places of one arc", valid_range="driver to wedge",
           source="tilted circle with its low point fixed", mark="computed",
           function="metrics.setup_geometry.ball_width_effect"),
    Method(key="expected_change", label="Expected effect of a setup change", unit="as the quantity",
           formula="size for one unit of the checkpoint × the change asked for",
           valid_range="the change a card names", source="teaching practice; own results once there are some",
           mark="common practice", function="metrics.rules.predict.effects_of"),
    Method(key="window", label="Window wanted for a club and a shape", unit="°, rpm, mm",
           formula="a table by quantity, intended shape and kind of club", valid_range="quantities with a window",
           source="teaching practice; each window carries its own mark", mark="common practice",
           function="metrics.windows.window"),
    Method(key="window_level", label="Window widened for a level", unit="°",
           formula="the window, or middle ± the level’s tolerance where that reaches further",
           valid_range="path and face to path", source="from memory", mark="memory",
           function="metrics.windows.window_for_level"),
    Method(key="playable_width", label="How far off line is still playable", unit="share of carry",
           formula="a table by kind of club", valid_range="full swings", source="from memory", mark="memory",
           function="metrics.spread.playable_share"),
    Method(key="face_spread_limit", label="Face spread that needs no work", unit="°",
           formula="1.5 for a scratch player, else 2.5", valid_range="all levels",
           source="common practice, no source", mark="common practice",
           function="metrics.windows.face_spread_limit"),
    Method(key="usual_spread", label="Usual spread of a level", unit="of the number",
           formula="a table by level; carry as a share of the mean", valid_range="numbers with a usual spread",
           source="coaching experience, from memory", mark="memory", function="metrics.change.priors.sd_prior"),
    Method(key="units", label="Change of units", unit="mph, yd, in, °F, …",
           formula="exact by definition: 1 yd = 0.9144 m, 1 mph = 0.44704 m/s", valid_range="all values",
           source="international yard and pound agreement of 1959; held to pint in the tests", mark="source",
           function="metrics.units.to_si"),
)
"""Numbers that belong to no one package's list, or stand between two of them."""


@dataclass(frozen=True, kw_only=True)
class Group:
    """Some methods under one heading."""

    key: str
    title: str
    methods: tuple[Method, ...]


GROUPS: tuple[Group, ...] = (
    Group(key="flight", title="Ball flight, impact and air", methods=FLIGHT),
    Group(key="change", title="Means, spreads and change", methods=CHANGE),
    Group(key="rules", title="Setup, findings and drills", methods=RULES),
    Group(key="photo", title="Setup from a photo, and how alike setups are", methods=PHOTO),
    Group(key="short_game", title="Short game and putting", methods=SHORT_GAME),
    Group(key="plans", title="Plans and practice", methods=PLANS),
    Group(key="handicap", title="Rounds and handicap", methods=HANDICAP),
    Group(key="others", title="Windows, rates and what the others build on", methods=OTHERS),
)
METHODS: tuple[Method, ...] = tuple(method for group in GROUPS for method in group.methods)
"""All of them, each with a key of its own; tests hold every function to a row and every row to a function."""

MARKS: dict[Mark, str] = {
    "source": "the page or the abstract of the source was read",
    "second-hand": "read in a text that names the source",
    "memory": "written down from memory, not checked",
    "common practice": "what teachers do; no source",
    "computed": "derived here, by geometry, statistics or simulation",
}
"""How well a value is supported, in words for the reader."""


def matching(*, words: str, groups: Iterable[Group] = GROUPS) -> tuple[Group, ...]:
    """Return the groups with those methods that contain every one of the words anywhere; empty groups left out.

    Upper and lower case do not matter. No words: everything.
    """
    wanted = words.lower().split()
    found = (
        Group(key=group.key, title=group.title, methods=tuple(
            method for method in group.methods if all(word in _text(method) for word in wanted)
        )) for group in groups
    )
    return tuple(group for group in found if group.methods)


def _text(method: Method) -> str:
    return " ".join((
        method.label, method.unit, method.formula, method.valid_range, method.source, method.mark,
    )).lower()
