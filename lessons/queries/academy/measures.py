"""The registry: page, help text, CSV and tests of the academy's figures are made from these records."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

from lessons.queries.roster import DEFINITIONS

from . import office, people, teaching
from .count import Count, of_students
from .world import World

COMMON = "common practice, no source"
RETENTION = "the formula as commonly published; no one source"


@dataclass(frozen=True, kw_only=True)
class Measure:
    """A question, how it is counted, over which time, and from where the way of counting comes."""

    key: str
    topic: str
    name: str
    formula: str
    count: Callable[[World], Count]
    window: Callable[[World], str] = field(default=lambda world: f"{world.since:%-d %b %Y} to {world.today:%-d %b %Y}")
    source: str = COMMON
    yearly: bool = False
    """Whether the same days a year before are counted beside it."""

    def of(self, world: World, *, before: World | None = None) -> "Figure":
        """Count it; ``before`` is the same academy a year earlier."""
        then = self.count(before) if before is not None and self.yearly else None
        return Figure(measure=self, count=self.count(world), window=self.window(world), before=then)


@dataclass(frozen=True, kw_only=True)
class Figure:
    """A measure counted on one day."""

    measure: Measure
    count: Count
    window: str
    before: Count | None = None


def _today(world: World) -> str:
    return f"on {world.today:%-d %b %Y}"


def _roster(key: str, topic: str = "Students") -> Measure:
    """Return a definition of the roster, counted over the same rows, as a measure."""
    known = DEFINITIONS[key]

    def count(world: World) -> Count:
        return of_students(
            (row.student.pk for row in world.rows if known.out_of(row) and known.counts(row)),
            (row.student.pk for row in world.rows if known.out_of(row)),
        )

    return Measure(
        key=key, topic=topic, name=known.name, formula=known.formula, count=count, window=_today, source=known.source
    )


MEASURES: dict[str, Measure] = {one.key: one for one in (
    _roster("active"),
    Measure(key="retention", topic="Students", name="Stayed", count=people.retention, source=RETENTION, formula=(
        "active at the end of the window, less those whose first lesson fell into it; out of those active on the day "
        "before it began. Whoever has left the academy is counted")),
    _roster("overdue"),
    _roster("unbooked"),
    _roster("paused"),
    Measure(key="lapse", topic="Students", name="Three signs of leaving", count=people.lapse, window=_today, formula=(
        "overdue, no practice ticked for 21 days, and one lesson or none left of a package: all three; out of "
        "active-status students. A plain sum, its parts are shown")),
    Measure(key="conversion", topic="Students", yearly=True,
            name="Newcomers who had a lesson", count=people.conversion, formula=(
        "students whose record was made in the window and who attended a lesson; out of all whose record was made "
        "in it")),
    Measure(key="hours", topic="Teaching", name="Hours given", count=teaching.hours, formula=(
        "minutes of finished lessons and held classes, each hour once; out of the coaches' working hours in the "
        "window, holidays not taken off")),
    Measure(key="no_show", topic="Teaching", yearly=True, name="Did not come", count=teaching.no_show, formula=(
        "lessons marked “did not come”; out of those and the finished ones")),
    Measure(key="late_cancel", topic="Teaching", yearly=True,
            name="Cancelled late", count=teaching.late_cancel, formula=(
        "cancelled by the student's side with less notice than the house asks for (24 hours unless set); out of all "
        "lessons due in the window, cancelled ones with them")),
    Measure(key="group_fill", topic="Teaching", yearly=True,
            name="Places filled in classes", count=teaching.group_fill, formula=(
        "students registered in classes that were held; out of their places")),
    Measure(key="given", topic="Teaching", name="Sheet given within a day", count=teaching.given, formula=(
        "finished lessons whose sheet was mailed, copied or open on a private page within 24 hours; out of all "
        "finished lessons")),
    Measure(key="opened", topic="Teaching", name="Page read after the lesson", count=teaching.opened, formula=(
        "finished lessons after which the private page was opened; out of those whose sheet was given")),
    Measure(key="first_ten", topic="Teaching", name="Return visits with a first ten", count=teaching.first_ten,
            window=lambda world: "all visits", formula=(
        "return visits that began with ten balls, no aids, no advice; out of all return visits. Measures the "
        "routine of teaching, not anybody's play")),
    _roster("held", topic="Did it hold?"),
    _roster("cant_tell", topic="Did it hold?"),
    _roster("slipped", topic="Did it hold?"),
    Measure(key="outcome", topic="Did it hold?", name="Scores came down", count=people.outcome, formula=(
        "students whose mean of the last ten score differentials is lower today than on the day before the window; "
        "out of those with ten on both days and a round since. Differentials as played; the index itself is the "
        "association’s number alone, and it lags")),
    Measure(key="package_left", topic="Packages and clubs", name="Package nearly used up", count=office.package_low,
            window=_today, formula="students with one lesson or none left; out of those who have had a package"),
    Measure(key="package_ending", topic="Packages and clubs", name="Lessons running out", count=office.package_ending,
            window=_today, formula=(
        "students with usable lessons whose last day is within 30 days; out of those with usable lessons")),
    Measure(key="equipment", topic="Packages and clubs",
            name="Clubs to be checked", count=office.equipment, window=_today,
            formula=("students with a club in use whose loft, lie and grip were noted longer ago than the house "
                     "allows (24 months unless set); out of those with a dated club in use")),
    Measure(key="liability", topic="Packages and clubs",
            name="Owed in lessons", count=office.liability, window=_today, formula=(
        "usable lessons times the price of one in their package, in the academy's currency; lessons beside it. "
        "Whoever has left is counted")),
    Measure(key="revenue", topic="Packages and clubs", yearly=True,
            name="Noted money for a lesson hour", count=office.revenue, formula=(
        "amounts noted on packages, paid back ones taken off; divided by the hours of finished lessons")),
    Measure(key="junior_consents", topic="Safety", name="Juniors with the consents they need",
            count=office.junior_consents, window=_today, formula=(
        "juniors whose consents for lessons, medical care and messages all hold today; out of all juniors")),
    Measure(key="consents_ending", topic="Safety", name="Consents running out", count=office.consents_ending,
            window=_today, formula="juniors with a consent that ends within 30 days; out of all juniors"),
    Measure(key="second_adult", topic="Safety", name="Junior lessons without a second adult",
            count=office.second_adult, formula=(
        "finished single lessons of juniors for which no second adult was noted; out of all of them")),
    Measure(key="checks", topic="Safety", name="Coaches' papers in date", count=office.checks, window=_today, formula=(
        "coaches of juniors with background check, child-protection training and first aid all in date; out of "
        "all coaches with juniors")),
    Measure(key="incidents", topic="Safety", name="Incidents open", count=office.incidents, window=_today,
            formula="incidents that are not closed; out of all that were noted"),
    Measure(key="near_misses", topic="Safety", yearly=True, name="Near misses", count=office.near_misses, formula=(
        "incidents of the kind “it nearly went wrong”; for each 1000 finished lessons. Many noted is a good sign")),
)}


def figures(world: World, keys: Iterable[str] = MEASURES) -> list[Figure]:
    """Return the figures in order."""
    before = world.year_before()
    return [MEASURES[key].of(world, before=before) for key in keys]
