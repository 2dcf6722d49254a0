"""One row for every number of the planner, for the Method page."""

from metrics.method import Method

_PRACTICE = "common practice, no source"

METHODS: tuple[Method, ...] = (
    Method(key="split_minutes", label="Minutes of a plan’s parts", unit="min",
           formula="total × weight / sum of weights, largest remainder; adds up exactly",
           valid_range="0 minutes or more", source="8, 15, 20, 10, 7 of an hour are common practice",
           mark="common practice",
           function="metrics.plans.minutes.split_minutes"),
    Method(key="most_balls", label="Most balls in a practice", unit="balls", formula="80 an hour",
           valid_range="0 minutes or more", source=_PRACTICE, mark="common practice",
           function="metrics.plans.minutes.most_balls"),
    Method(key="growth_limit", label="Most balls of the coming week", unit="balls",
           formula="1.3 × mean of up to four earlier weeks with balls, 40 at the least; putts not counted",
           valid_range="two weeks with balls or more",
           source=_PRACTICE, mark="common practice", function="metrics.plans.minutes.growth_limit"),
    Method(key="difficulty", label="Harder, easier or the same", unit="word",
           formula="above 85 % twice running: harder; below 50 % twice running: easier; wanted 60 to 80 %",
           valid_range="two shares of passes or more", source="after the idea of an optimal challenge; no trial",
           mark="common practice", function="metrics.plans.difficulty.next_step"),
    Method(key="branch", label="Where to go from the results", unit="word",
           formula="health, consent, event within 28 days, mood, practice, then kept, partly, lost, lost twice",
           valid_range="any record", source=_PRACTICE, mark="common practice",
           function="metrics.plans.branch.branch_of"),
    Method(key="plan_lesson", label="Plan of one lesson", unit="min", formula="the parts above, from the branch",
           valid_range="20 to 120 minutes", source=_PRACTICE, mark="common practice",
           function="metrics.plans.lesson.plan_lesson"),
    Method(key="practice_plan", label="Plan of practice", unit="min, balls",
           formula="shares by 30, 60 and 120 minutes; aids 7/3, 5/5, 3/7, check; mixed 20 to 80 %",
           valid_range="0 to 1200 minutes a week", source=_PRACTICE, mark="common practice",
           function="metrics.plans.practice.practice_plan"),
    Method(key="plan_series", label="Plan of a series", unit="visits",
           formula="six kinds of visit, 14 or 21 days apart", valid_range="2 to 12 visits", source=_PRACTICE,
           mark="common practice",
           function="metrics.plans.series.plan_series"),
    Method(key="plan_season", label="Plan of a season", unit="weeks",
           formula="6 weeks contact before, 4 review after, up to 12 change; battery every 10 weeks",
           valid_range="1 to 104 weeks", source=_PRACTICE, mark="common practice",
           function="metrics.plans.season.plan_season"),
    Method(key="battery_due", label="When the test battery is due again", unit="days",
           formula="8 to 12 weeks after the last one was finished", valid_range="any day", source=_PRACTICE,
           mark="common practice", function="metrics.plans.battery.due_between"),
)
"""Every row resolves to a public function with a docstring; a test holds it to that."""
