"""Scripted records: players and results written out, for the tests of the planner."""

from datetime import date, timedelta

from metrics.plans.types import ChangeInWork, Player, VisitResult

TODAY = date(2026, 5, 4)
CHANGE = ChangeInWork(
    pattern="over_draw", title="Path too far out", change="Feet square, ball one width forward", cue="rails beside it",
    drills=("two-stick-station", "faded-sticks"), with_aids=True, retest="10 with sticks, 10 without")
EVERYWHERE = ("range", "green", "bunker", "home", "garden", "course")
ALL_KIT = ("sticks", "tees", "mirror", "tape", "spray", "towel", "soft", "phone", "partner")


def player(**values) -> Player:
    """An adult with one change in work, an hour a week, every place and all kit, unless said otherwise."""
    whole = {"age": 41, "minutes_week": 60, "places": EVERYWHERE, "kit": ALL_KIT, "change": CHANGE, **values}
    return Player(**whole)


def seen(*outcomes: str, **values) -> tuple[VisitResult, ...]:
    """Return visits two weeks apart with these outcomes; the other values belong to the last one."""
    days = [TODAY - timedelta(days=14 * (len(outcomes) - place)) for place in range(len(outcomes))]
    return tuple(
        VisitResult(day=day, outcome=outcome, **(values if place == len(outcomes) - 1 else {}))
        for place, (day, outcome) in enumerate(zip(days, outcomes, strict=True)))
