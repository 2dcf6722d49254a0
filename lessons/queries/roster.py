"""The roster: one row a student, and the questions an owner asks, each with its definition and its list.

Every number on the page is a ``Definition`` here: page, help text and tests are made from this one registry.
"""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, timedelta

from django.db.models import Min, OuterRef, QuerySet, Subquery
from django.utils import timezone

from academy.models import Coach, Student
from lessons.models import Lesson
from lessons.pictures.sparkline import Sparkline, draw
from metrics.change.words import WORDS
from metrics.fields import FIELDS

SHAPES = {
    "established": "held", "likely": "partly", "slipped": "slipped", "overshot": "outside", "in_window": "inside",
    "better_today": "today", "cannot_tell": "unknown",
}
ACTIVE_DAYS = 60
GRACE_DAYS = 7
GAP_FACTOR = 1.5


@dataclass(frozen=True, kw_only=True)
class Row:
    """What the roster knows of one student today."""

    student: Student
    last_visit: date | None
    next_lesson: date | None
    agreed: date | None
    visits: int
    return_visits: int
    first_ten_visits: int
    verdict: str
    verdict_sentence: str
    trend: list
    window: list
    quantity: str
    active: bool
    overdue_because: str

    @property
    def word(self) -> str:
        """The verdict in a word."""
        return WORDS.get(self.verdict, "")

    @property
    def shape(self) -> str:
        """Which mark goes with the word; see .state in app.css."""
        return SHAPES.get(self.verdict, "unknown")

    @property
    def sparkline(self) -> str:
        """The first tens as dots, for a glance."""
        if not self.trend:
            return ""
        spec = FIELDS[self.quantity]
        return draw(Sparkline(
            means=self.trend, window=tuple(self.window) if self.window else None, unit=spec.unit,
            label=spec.label, key=f"spark-{self.student.code.hex[:8]}",
        ))


@dataclass(frozen=True, kw_only=True)
class Definition:
    """A question with the rows it counts, out of which rows, and how that is decided."""

    key: str
    name: str
    formula: str
    source: str
    counts: Callable[[Row], bool]
    out_of: Callable[[Row], bool] = lambda row: True

    def figure(self, rows: list[Row]) -> dict:
        """Return the number with its parts; ``share`` is None where there is nothing to count out of."""
        base = [row for row in rows if self.out_of(row)]
        hits = [row for row in base if self.counts(row)]
        share = len(hits) / len(base) if base else None
        return {"definition": self, "count": len(hits), "base": len(base), "share": share}


def _here(row: Row) -> bool:
    return row.student.status == Student.Status.ACTIVE


DEFINITIONS: dict[str, Definition] = {d.key: d for d in (
    Definition(
        key="active", name="Active",
        formula=f"an attended lesson of any kind in the last {ACTIVE_DAYS} days, or a place in a class to come",
        source="common practice, no source", counts=lambda row: row.active,
    ),
    Definition(
        key="overdue", name="Overdue",
        formula=(f"past the agreed next date by more than {GRACE_DAYS} days, or longer away than {GAP_FACTOR} times "
                 "the own usual gap (from three visits on), and nothing booked; paused students never count"),
        source="common practice, no source", counts=lambda row: bool(row.overdue_because), out_of=_here,
    ),
    Definition(
        key="unbooked", name="Nothing booked", formula="active students without a lesson in the diary",
        source="common practice, no source", counts=lambda row: row.next_lesson is None, out_of=_here,
    ),
    Definition(
        key="paused", name="Paused", formula="paused with a reason: injury, away, family, season",
        source="common practice, no source", counts=lambda row: row.student.status == Student.Status.PAUSED,
    ),
    Definition(
        key="first_ten", name="First ten missing",
        formula=("students with a return visit that did not begin with ten balls, no aids, no advice; without "
                 "them nobody can tell what held. Measures the teaching routine, not the student"),
        source="common practice, no source",
        counts=lambda row: row.first_ten_visits < row.return_visits, out_of=lambda row: row.return_visits > 0,
    ),
    Definition(
        key="held", name="Gain held", formula="verdict “likely” or “established” for the number in work",
        source="see the Method page: verdicts", counts=lambda row: row.verdict in {"likely", "established"},
        out_of=lambda row: row.return_visits > 0,
    ),
    Definition(
        key="cant_tell", name="Can’t tell yet",
        formula="return visits exist, but balls or visits do not settle it yet",
        source="see the Method page: verdicts",
        counts=lambda row: row.verdict in {"", "cannot_tell"}, out_of=lambda row: row.return_visits > 0,
    ),
    Definition(
        key="slipped", name="Slipped", formula="verdict “slipped” for the number in work",
        source="see the Method page: verdicts", counts=lambda row: row.verdict == "slipped",
        out_of=lambda row: row.return_visits > 0,
    ),
)}


def roster_rows(*, coach: Coach, today: date | None = None, left_too: bool = False) -> list[Row]:
    """Return one row for every student this person may see; those who have left the academy only where asked for.

    Two queries, however many students and lessons; a coach of two hundred is read once.
    """
    today = today or timezone.localdate()
    seen = Student.objects.visible_to(coach)
    return [_row(student, today) for student in _students(seen if left_too else seen.here())]


def _students(seen: QuerySet) -> QuerySet:
    planned = (
        Lesson.objects.filter(
            student=OuterRef("pk"), status__in=[Lesson.Status.PLANNED, Lesson.Status.RUNNING],
            starts_at__gte=timezone.now() - timedelta(hours=12),
        ).order_by().values("student").annotate(soonest=Min("starts_at")).values("soonest")
    )
    own = Lesson.objects.filter(student=OuterRef("pk")).exclude(kind=Lesson.Kind.PRACTICE).order_by("-starts_at")
    attended = own.filter(status=Lesson.Status.FINISHED).values("starts_at")[:1]
    in_class = own.filter(
        status=Lesson.Status.PLANNED, kind=Lesson.Kind.GROUP, starts_at__gte=timezone.now()
    ).values("starts_at")[:1]
    return (
        seen.select_related("standing").prefetch_related("coach").defer("notes", "standing__student_sentence")
        .annotate(next_at=Subquery(planned), attended_at=Subquery(attended), class_at=Subquery(in_class))
    )


def _row(student: Student, today: date) -> Row:
    standing = getattr(student, "standing", None)
    last = timezone.localdate(standing.last_visit_at) if standing and standing.last_visit_at else None
    booked = timezone.localdate(student.next_at) if student.next_at else None
    return Row(
        student=student, last_visit=last, next_lesson=booked, agreed=standing.agreed_date if standing else None,
        visits=standing.visits if standing else 0, return_visits=standing.return_visits if standing else 0,
        first_ten_visits=standing.first_ten_visits if standing else 0,
        verdict=standing.verdict if standing else "", verdict_sentence=standing.verdict_sentence if standing else "",
        trend=standing.trend if standing else [], window=standing.window if standing else [],
        quantity=standing.quantity if standing else "",
        active=_is_active(student, today),
        overdue_because=_overdue(student, standing, last, booked, today),
    )


def _is_active(student: Student, today: date) -> bool:
    if student.class_at is not None:
        return True
    return student.attended_at is not None and (today - timezone.localdate(student.attended_at)).days <= ACTIVE_DAYS


def _overdue(student: Student, standing, last: date | None, booked: date | None, today: date) -> str:
    """Return why the student is overdue, as a sentence; empty where not."""
    if student.status != Student.Status.ACTIVE or last is None or booked is not None:
        return ""
    if standing.agreed_date and today > standing.agreed_date + timedelta(days=GRACE_DAYS):
        return f"agreed for {standing.agreed_date:%-d %B}, {(today - standing.agreed_date).days} days ago"
    gap = standing.median_gap_days
    if standing.visits >= 3 and gap and (today - last).days > GAP_FACTOR * gap:
        return f"{(today - last).days} days away; usually every {gap:.0f}"
    return ""
