"""A student as the planner sees one. Nothing is guessed; what was not asked stays empty."""

from collections import defaultdict
from datetime import date, datetime, timedelta

from django.utils import timezone

from academy.consents import consent_table, rules
from academy.models import Goal, HealthFlag, Student
from lessons.library import stored_library
from lessons.models import PracticeEntry, Prescription
from lessons.queries.pain_rule import rule_of
from lessons.queries.skills.findings import findings_of
from lessons.queries.skills.runs import runs_of
from metrics.plans.types import ChangeInWork, Event, Player, ShortGameNeed, VisitResult
from metrics.units import System

from .results import results_of

_PARTS = {"putter": "putting", "pitch": "wedges", "chip": "chipping", "sand": "sand"}
_NEWEST_DAYS = 120
"""A test older than four months is no need of today."""


def player_of(
    *, student: Student, now: datetime, system: System, minutes_week: int | None = None,
    places: tuple[str, ...] = (), kit: tuple[str, ...] = (), mood: str = "",
) -> Player:
    """Return what the planner may know. About thirty queries, independent of visits and balls."""
    day = timezone.localdate(now)
    junior = student.is_junior(adult_age=rules().adult_age)
    missing = [one.item for one in consent_table(student=student, day=day) if not one.allowed] if junior else []
    return Player(
        goal=_goal(student), age=student.age_on(day), adult_age=rules().adult_age, beginner=student.is_beginner,
        handicap_index=student.handicap_index, places=places, kit=kit, consents_missing=tuple(missing),
        minutes_week=student.practice_minutes_week if minutes_week is None else minutes_week,
        events=tuple(Event(name=one.name, day=one.on_date) for one in student.events.filter(
            removed_at__isnull=True, on_date__gte=day - timedelta(days=7))),
        change=_change(student), results=_with_mood(results_of(student=student, system=system), mood, day),
        needs=_needs(student, now), success=_success(student), balls_weeks=_balls_weeks(student, now),
        **_health(student, day),
    )


def _health(student: Student, day: date) -> dict:
    """Return what is off, by the rule that practice mode and the private page follow too. One query."""
    flags = list(HealthFlag.objects.filter(student=student, cleared_at__isnull=True))
    rule = rule_of(flags, age=student.age_on(day))
    worst = max((flag.severity for flag in flags), default=0)
    return {
        "red_flag": rule.all_off, "areas": tuple(sorted(rule.areas)),
        "max_pain": worst if rule.long_game_off else min(worst, 3), "new_pain": rule.long_game_off and worst < 4,
    }


def _goal(student: Student) -> str:
    goals = list(student.goals.filter(ended_on__isnull=True))
    process = [goal for goal in goals if goal.kind == Goal.Kind.PROCESS]
    return (process or goals)[0].text if goals else ""


def _change(student: Student) -> ChangeInWork | None:
    """Return the newest change with what the library knows of its pattern. Three queries at most."""
    found = (
        Prescription.objects.filter(lesson__student=student, removed_at__isnull=True)
        .select_related("finding", "lesson").order_by("-lesson__starts_at", "-pk").first()
    )
    if found is None:
        return None
    slug = found.finding.pattern if found.finding else ""
    pattern = stored_library().patterns.get(slug)
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


def _success(student: Student) -> dict[str, tuple[float, ...]]:
    """Return the shares of passes of each drill, oldest first, from the ticks. One query."""
    rows = PracticeEntry.objects.filter(
        student=student, balls__gt=0, hits__isnull=False, assignment__isnull=False
    ).order_by("practised_at").values_list("assignment__drill", "hits", "balls")
    found: dict[str, list[float]] = defaultdict(list)
    for drill, hits, balls in rows:
        found[drill].append(min(hits / balls, 1.0))
    return {drill: tuple(shares[-6:]) for drill, shares in found.items()}


def _balls_weeks(student: Student, now: datetime) -> tuple[int, ...]:
    """Return the balls practised in each of the last four weeks, newest first, putting drills left out. One query."""
    weeks, drills = [0, 0, 0, 0], stored_library().drills
    rows = student.practice.filter(practised_at__gte=now - timedelta(days=28), practised_at__lte=now)
    for moment, balls, slug in rows.values_list("practised_at", "balls", "assignment__drill"):
        if slug not in drills or not drills[slug].gentle:
            weeks[min((now - moment).days // 7, 3)] += balls or 0
    return tuple(weeks)
