"""What is left of packages: one student's, or everybody's in one query."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from django.db.models import QuerySet, Sum
from django.db.models.functions import Coalesce

from academy.models import Student
from lessons.models import Package

ENDS_SOON_DAYS = 30


@dataclass(frozen=True, kw_only=True)
class Left:
    """Lessons that can still be used, what they are worth, and the next day on which some run out.

    ``run_out`` counts lessons past their last day that are not written off yet. ``ever`` says whether there was
    a package at all.
    """

    lessons: int = 0
    value_cents: int = 0
    next_expiry: date | None = None
    run_out: int = 0
    ever: bool = False

    def ends_within(self, *, day: date, days: int = ENDS_SOON_DAYS) -> bool:
        """Say whether usable lessons run out within so many days."""
        return self.next_expiry is not None and self.next_expiry - day <= timedelta(days=days)

    @property
    def sentence(self) -> str:
        """The balance in words, for a page."""
        if not self.ever:
            return "No package."
        ends = f", to be used by {self.next_expiry:%-d %B %Y}" if self.next_expiry else ""
        return f"{self.lessons} lesson{'' if self.lessons == 1 else 's'} left{ends}."


def left_of(*, student: Student, day: date) -> Left:
    """Return what one student has left on a day. One query."""
    return left_by_student(students=[student.pk], day=day).get(student.pk, Left())


def left_by_student(*, students: Iterable[int] | QuerySet | None = None, day: date) -> dict[int, Left]:
    """Return student number -> what is left, for those who ever had a package. One query."""
    rows = with_left(Package.objects.all())
    if students is not None:
        rows = rows.filter(student__in=students)
    found: dict[int, list[Package]] = {}
    for package in rows:
        found.setdefault(package.student_id, []).append(package)
    return {student: _sum(packages, day) for student, packages in found.items()}


def with_left(packages: QuerySet) -> QuerySet:
    """Return packages in view with ``left``, the sum of their entries."""
    return packages.filter(removed_at__isnull=True).annotate(left=Coalesce(Sum("entries__lessons"), 0))


def usable(package: Package, day: date) -> bool:
    """Say whether a package with ``left`` can be used on a day."""
    return package.left > 0 and (package.expires_on is None or package.expires_on >= day)


def _sum(packages: list[Package], day: date) -> Left:
    open_ = [package for package in packages if usable(package, day)]
    return Left(
        lessons=sum(package.left for package in open_), ever=True,
        value_cents=sum(package.value_cents(package.left) for package in open_),
        next_expiry=min((package.expires_on for package in open_ if package.expires_on), default=None),
        run_out=sum(package.left for package in packages if package.left > 0 and not usable(package, day)),
    )
