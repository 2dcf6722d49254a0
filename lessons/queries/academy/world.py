"""Everything the figures are counted from, read at once: twenty queries, however many students there are."""

from collections import defaultdict
from dataclasses import dataclass, field, replace
from datetime import date, datetime, time, timedelta
from functools import cached_property

from django.db.models import Max, Min, Q, QuerySet
from django.utils import timezone

from academy.consents import Rules, rules
from academy.models import Club, Coach, Consent, Student
from lessons.house import House, house
from lessons.models import (
    CoachCheck,
    GroupClass,
    Incident,
    Lesson,
    PackageEntry,
    PracticeEntry,
    WorkingHours,
)
from lessons.models.diary import STUDENTS_REASONS
from lessons.queries.followup_facts import Facts, facts_of
from lessons.queries.incidents import incidents_for
from lessons.queries.packages import Left, left_by_student
from lessons.queries.roster import Row, roster_rows
from lessons.queries.rounds import differentials

WINDOWS = {30: "30 days", 90: "three months", 180: "six months", 365: "a year"}
WHO = {"": "Everybody", "juniors": "Juniors", "adults": "Adults"}


@dataclass(frozen=True, kw_only=True)
class Filters:
    """What is counted; every part of it stands in the address."""

    coach: str = ""
    who: str = ""
    days: int = 90


@dataclass(frozen=True, kw_only=True)
class Visit:
    """One lesson in the diary, whatever became of it; days by the academy's clock."""

    pk: int
    student: int
    coach: int
    day: date
    starts_at: datetime
    status: str
    kind: str
    minutes: int
    alone: bool
    """No second adult was noted."""
    late: bool
    """Cancelled by the student's side with less notice than the house asks for."""

    @property
    def attended(self) -> bool:
        return self.status == Lesson.Status.FINISHED


@dataclass(kw_only=True)
class World:
    """The academy on one day, narrowed to what was asked for."""

    today: date
    filters: Filters
    house: House
    rules: Rules
    everybody: list[Row]
    """Also those who have left: without them nobody would ever seem to go, and their lessons would be missing."""
    visits: list[Visit]
    left: dict[int, Left]
    last_tick: dict[int, datetime]
    consents: dict[int, list[Consent]]
    hours: dict[int, list[WorkingHours]]
    checks: list[CoachCheck]
    classes: list[GroupClass]
    incidents: list[Incident]
    facts: dict[int, Facts]
    """What became of each finished single lesson of the window."""
    money: list[tuple[int, date, int]]
    """Student, day, hundredths noted."""
    clubs: dict[int, date]
    """The oldest date of each student's clubs in use."""
    differentials: dict[int, list[tuple[date, float]]]
    """Day and differential of each student's rounds, oldest first."""
    rows: list[Row] = field(default_factory=list)
    """Those who are here."""
    of: dict[int, list[Visit]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.rows = [row for row in self.everybody if row.student.status != Student.Status.LEFT]
        here, known = {row.student.pk for row in self.rows}, {row.student.pk for row in self.everybody}
        self.clubs = {pk: oldest for pk, oldest in self.clubs.items() if pk in here}
        self.differentials = {pk: rounds for pk, rounds in self.differentials.items() if pk in here}
        self.visits = [visit for visit in self.visits if visit.student in known]
        self.of = defaultdict(list)
        for visit in self.visits:
            self.of[visit.student].append(visit)

    @cached_property
    def since(self) -> date:
        """The first day of the window."""
        return self.today - timedelta(days=self.filters.days - 1)

    @cached_property
    def due(self) -> list[Visit]:
        """The lessons of the window, whatever became of them, that were due by today."""
        return [visit for visit in self.visits if self.in_window(visit.day) and visit.status != Lesson.Status.PLANNED]

    def year_before(self) -> "World":
        """Return the same academy as it is known today, with the window of a year before."""
        return replace(self, today=self.today - timedelta(days=365))

    def in_window(self, day: date) -> bool:
        return self.since <= day <= self.today

    def attended_of(self, student: int) -> list[date]:
        """Return the days of a student's attended lessons, oldest first."""
        return [visit.day for visit in self.of.get(student, []) if visit.attended]

    def is_junior(self, student: Student) -> bool:
        age = student.age_on(self.today)
        return age is not None and age < self.rules.adult_age

    def active_on(self, student: int, day: date, days: int = 60) -> bool:
        """Say whether a lesson was attended in so many days up to and including this one."""
        return any(day - timedelta(days=days) <= attended <= day for attended in self.attended_of(student))


def world(*, coach: Coach, filters: Filters, now: datetime) -> World:
    """Read what this person may see."""
    today, by = timezone.localdate(now), rules()
    rows = [row for row in roster_rows(coach=coach, today=today, left_too=True) if _fits(row, filters, by, today)]
    students = Student.objects.visible_to(coach)
    own = {row.student.coach_id for row in rows}
    return World(
        today=today, filters=filters, house=house(), rules=by, everybody=rows,
        visits=_visits(students, house().late_cancel_hours), left=left_by_student(students=students, day=today),
        last_tick=dict(PracticeEntry.objects.filter(student__in=students).order_by().values_list("student")
                       .annotate(Max("practised_at"))),
        consents=_grouped(Consent.objects.filter(student__in=students)),
        hours=_hours(own), checks=list(CoachCheck.objects.filter(coach__in=own).select_related("coach")),
        classes=list(GroupClass.objects.filter(coach__in=own, status=GroupClass.Status.HELD)
                     .prefetch_related("bookings__lesson")),
        incidents=list(incidents_for(coach).defer("health_text")),
        facts=facts_of(lessons=_single(students, today - timedelta(days=filters.days))),
        money=list(PackageEntry.objects.filter(package__student__in=students)
                   .values_list("package__student", "on_date", "amount_cents")),
        clubs=_clubs(students, today), differentials=differentials(students),
    )


def _clubs(students: QuerySet, today: date) -> dict[int, date]:
    in_use = Club.objects.filter(student__in=students, from_date__isnull=False)
    in_use = in_use.filter(Q(to_date=None) | Q(to_date__gt=today)).order_by()
    return dict(in_use.values_list("student").annotate(Min("from_date")))


def _single(students: QuerySet, since: date) -> QuerySet:
    """Return finished lessons that are no class, from a day on; only what the facts are made of."""
    begin = timezone.make_aware(datetime.combine(since, time()))
    rows = Lesson.objects.filter(student__in=students, status=Lesson.Status.FINISHED, starts_at__gte=begin)
    rows = rows.exclude(kind__in=[Lesson.Kind.GROUP, Lesson.Kind.PRACTICE])
    return rows.only("pk", "student_id", "starts_at", "finished_at", "minutes")


def _fits(row: Row, filters: Filters, by: Rules, today: date) -> bool:
    if filters.coach and str(row.student.coach.code) != filters.coach:
        return False
    age = row.student.age_on(today)
    junior = age is not None and age < by.adult_age
    return filters.who == "" or (filters.who == "juniors") == junior


def _visits(students, notice_hours: float) -> list[Visit]:
    rows = Lesson.objects.filter(student__in=students).exclude(kind=Lesson.Kind.PRACTICE).order_by("starts_at", "pk")
    zone = timezone.get_current_timezone()
    return [
        Visit(
            pk=pk, student=student, coach=coach, day=starts_at.astimezone(zone).date(), starts_at=starts_at,
            status=status, kind=kind, minutes=minutes, alone=not adult,
            late=status == Lesson.Status.CANCELLED and reason in STUDENTS_REASONS and at is not None
            and (starts_at - at).total_seconds() < notice_hours * 3600,
        )
        for pk, student, coach, starts_at, status, kind, minutes, adult, reason, at in rows.values_list(
            "pk", "student", "coach", "starts_at", "status", "kind", "minutes", "second_adult",
            "booking__cancel_reason", "booking__cancelled_at",
        )
    ]


def _grouped(rows) -> dict[int, list]:
    found: dict[int, list] = defaultdict(list)
    for row in rows:
        found[row.student_id].append(row)
    return found


def _hours(coaches: set[int]) -> dict[int, list[WorkingHours]]:
    found: dict[int, list[WorkingHours]] = defaultdict(list)
    for row in WorkingHours.objects.filter(coach__in=coaches):
        found[row.coach_id].append(row)
    return found
