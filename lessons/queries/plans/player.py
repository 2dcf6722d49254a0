"""A student as the planner sees one. Nothing is guessed; what was not asked stays empty."""

from collections import defaultdict
from collections.abc import Mapping
from datetime import date, datetime, timedelta

from django.utils import timezone

from academy.consents import consent_table, rules
from academy.models import Goal, HealthFlag, Student
from lessons.library import stored_library
from lessons.models import Prescription
from lessons.queries.pain_rule import rule_of
from lessons.queries.skills.findings import findings_of
from lessons.queries.skills.runs import runs_of
from metrics.plans.types import ChangeInWork, Event, Player, ShortGameNeed, VisitResult
from metrics.rules.library import Library
from metrics.rules.records import Drill
from metrics.units import System

from .results import results_of

_PARTS = {"putter": "putting", "pitch": "wedges", "chip": "chipping", "sand": "sand"}
_NEWEST_DAYS = 120
"""A test older than four months is no need of today."""


def player_of(
    *, student: Student, now: datetime, system: System, minutes_week: int | None = None,
    places: tuple[str, ...] = (), kit: tuple[str, ...] = (), mood: str = "",
) -> Player:
    """Return what the planner may know. About fifteen queries, independent of visits and balls."""
    day, adult_age = timezone.localdate(now), rules().adult_age
    flags, drills = list(HealthFlag.objects.filter(student=student)), stored_library()
    success, weeks = _practised(student, now, drills.drills)
    junior = student.is_junior(adult_age=adult_age)
    missing = [one.item for one in consent_table(student=student, day=day) if not one.allowed] if junior else []
    return Player(
        goal=_goal(student), age=student.age_on(day), adult_age=adult_age, beginner=student.is_beginner,
        handicap_index=student.handicap_index, places=places, kit=kit, consents_missing=tuple(missing),
        minutes_week=student.practice_minutes_week if minutes_week is None else minutes_week,
        events=tuple(Event(name=one.name, day=one.on_date) for one in student.events.filter(
            removed_at__isnull=True, on_date__gte=day - timedelta(days=7))),
        change=_change(student, drills),
        results=_with_mood(results_of(student=student, system=system, flags=flags), mood, day),
        needs=_needs(student, now), success=success, balls_weeks=weeks,
        **_health(flags, student.age_on(day)),
    )


def _health(flags: list[HealthFlag], age: int | None) -> dict:
    """Return what is off, by the rule that practice mode and the private page follow too. No query."""
    still = [flag for flag in flags if flag.cleared_at is None]
    rule = rule_of(still, age=age)
    worst = max((flag.severity for flag in still), default=0)
    return {
        "red_flag": rule.all_off, "areas": tuple(sorted(rule.areas)),
        "max_pain": worst if rule.long_game_off else min(worst, 3), "new_pain": rule.long_game_off and worst < 4,
    }


def _goal(student: Student) -> str:
    goals = list(student.goals.filter(ended_on__isnull=True))
    process = [goal for goal in goals if goal.kind == Goal.Kind.PROCESS]
    return (process or goals)[0].text if goals else ""


def _change(student: Student, library: Library) -> ChangeInWork | None:
    """Return the newest change with what the library knows of its pattern. Two queries at most."""
    found = (
        Prescription.objects.filter(lesson__student=student, removed_at__isnull=True)
        .select_related("finding", "lesson").order_by("-lesson__starts_at", "-pk").first()
    )
    if found is None:
        return None
    slug = found.finding.pattern if found.finding else ""
    pattern = library.patterns.get(slug)
    blocks = found.lesson.blocks.filter(removed_at__isnull=True).values_list("aids", flat=True)
    return ChangeInWork(
        pattern=slug, title=found.finding.title if found.finding else "", change=found.change, cue=found.cue,
        retest=pattern.retest.text if pattern else "", drills=pattern.drills if pattern else (),
        with_aids=any(blocks),
    )


def _with_mood(results: tuple[VisitResult, ...], mood: str, day: date) -> tuple[VisitResult, ...]:
    """Add what the student told today; it belongs to the last visit, or to one that measured nothing."""
    if mood not in {"bored", "frightened"}:
        return results
    last = results[-1] if results else VisitResult(day=day, outcome="unknown")
    return (*results[:-1], VisitResult(**{**vars(last), "mood": mood}))


def _needs(student: Student, now: datetime) -> tuple[ShortGameNeed, ...]:
    """Return what the newest run of each test pointed at, supported findings first."""
    newest = {run.design.slug: run for run in runs_of(student=student)
              if run.test.begun_at >= now - timedelta(days=_NEWEST_DAYS)}
    found = []
    for run in newest.values():
        said = findings_of(run)
        for finding in said.findings if said else ():
            why = f"{run.design.title}, {timezone.localdate(run.test.begun_at):%d %b}: {finding.title.lower()}."
            need = ShortGameNeed(part=_PARTS[run.design.category], pattern=finding.pattern, why=why)
            found.append((finding.state != "supported", need))
    return tuple(need for _, need in sorted(found, key=lambda pair: pair[0]))


def _practised(student: Student, now: datetime, drills: Mapping[str, Drill],
               ) -> tuple[dict[str, tuple[float, ...]], tuple[int, ...]]:
    """Return what the ticks say: the shares of passes of each drill, oldest first, and the balls of each of the last
    four weeks, newest first, putting drills left out. One query."""
    rows = student.practice.order_by("practised_at").values_list("practised_at", "balls", "hits", "assignment__drill")
    shares: dict[str, list[float]] = defaultdict(list)
    weeks = [0, 0, 0, 0]
    for moment, balls, hits, slug in rows:
        if slug and balls and hits is not None:
            shares[slug].append(min(hits / balls, 1.0))
        gentle = slug in drills and drills[slug].gentle
        if now - timedelta(days=28) <= moment <= now and not gentle:
            weeks[min((now - moment).days // 7, 3)] += balls or 0
    return {drill: tuple(found[-6:]) for drill, found in shares.items()}, tuple(weeks)
