"""One row for every number of the short game, for the Method page."""

from metrics.method import Method

_TEXTBOOK = "any statistics textbook; held to scipy or statsmodels in the tests"

METHODS: tuple[Method, ...] = (
    Method(key="short_share", label="Share of balls in a short-game test", unit="share",
           formula="hits / balls with Wilson’s 95 % interval", valid_range="1 ball or more, independent balls",
           source=_TEXTBOOK, mark="source", function="metrics.shortgame.figures.share"),
    Method(key="short_spread", label="Spread of leave or carry", unit="% of the target",
           formula="100 × SD of (value / target), chi-square interval; carry: over its mean (CV)",
           valid_range="2 balls or more; near-normal", source=_TEXTBOOK, mark="source",
           function="metrics.shortgame.figures.spread_pct"),
    Method(key="short_mean", label="Mean leave, mean carry error", unit="% of the target",
           formula="100 × mean of (value / target) or of |carry / target − 1|, Student’s t interval",
           valid_range="2 balls or more", source=_TEXTBOOK, mark="source",
           function="metrics.shortgame.figures.mean_pct"),
    Method(key="short_median", label="Median distance left", unit="m",
           formula="middle value; interval from order statistics, 95 % at the least", valid_range="6 balls or more",
           source=_TEXTBOOK, mark="source", function="metrics.shortgame.median.median_interval"),
    Method(key="short_figures", label="What a run measured", unit="as the figure",
           formula="the rows above, for each target and for all", valid_range="1 ball or more",
           source="common practice; intervals any textbook", mark="common practice",
           function="metrics.shortgame.figures.read"),
    Method(key="short_change", label="Change from one run to the next", unit="as the figure; spreads as a ratio",
           formula="Newcombe for shares, Welch for means, ln ratio for spreads, 95 %",
           valid_range="5 balls a side; two days differ by more than the balls say", source=_TEXTBOOK, mark="source",
           function="metrics.shortgame.compare.compare"),
    Method(key="short_held", label="Did a test’s number hold", unit="a verdict word",
           formula="newest two runs each better than the run before the goal beyond 95 %: likely; never established",
           valid_range="5 balls a run; the day’s own effect is not in the interval", source="derived",
           mark="common practice", function="metrics.shortgame.held.judge_runs"),
    Method(key="error_band", label="Error band of a test design", unit="points, or share of the number",
           formula="Wilson at one half; chi-square for spreads; √((π/2 − 1)/n) for mean errors",
           valid_range="5 balls or more; the day’s effect comes on top", source="derived", mark="computed",
           function="metrics.shortgame.band.error_band"),
    Method(key="published_make", label="Tour share of holed putts", unit="share",
           formula="a table at 3, 5, 8, 10, 15, 20 and 30 ft; nothing in between", valid_range="those distances",
           source="M. Broadie, as quoted by others", mark="second-hand",
           function="metrics.shortgame.published.published_make"),
)
"""Every row resolves to a public function with a docstring; a test holds it to that."""
