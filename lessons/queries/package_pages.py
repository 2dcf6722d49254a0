"""The pages of packages: one student's ledger, the academy's balances, the bookkeeper's table."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from django.db.models import QuerySet

from academy.models import Coach, Student
from academy.paging import paged
from lessons.imports.export import csv_bytes
from lessons.models import Package, PackageEntry

from .packages import ENDS_SOON_DAYS, left_of, usable, with_left

SHOWS = {
    "open": "With lessons left", "ending": f"Running out within {ENDS_SOON_DAYS} days", "low": "One left or none",
    "run_out": "Past their last day, not written off", "all": "All",
}


@dataclass(frozen=True, kw_only=True)
class Balance:
    """A package with what is left of it on a day."""

    package: Package
    left: int
    usable: bool
    value_cents: int
    days: int | None
    """Days until the last one; negative once it is over."""

    @property
    def student(self) -> Student:
        return self.package.student

    @property
    def ending(self) -> bool:
        return self.usable and self.days is not None and self.days <= ENDS_SOON_DAYS

    @property
    def run_out(self) -> bool:
        return self.left > 0 and not self.usable

    def fits(self, show: str) -> bool:
        """Say whether the package belongs on the list of that name."""
        return {
            "open": self.usable, "ending": self.ending, "low": not self.run_out and self.left <= 1,
            "run_out": self.run_out,
        }.get(show, True)


def balances(*, coach: Coach, day: date) -> list[Balance]:
    """Return every package of the students this person may see, soonest end first. One query."""
    rows = with_left(Package.objects.filter(student__in=Student.objects.visible_to(coach)))
    found = [_balance(row, day) for row in rows.select_related("student__coach")]
    return sorted(found, key=lambda one: (one.days is None, one.days or 0, one.student.name))


def page(*, coach: Coach, day: date, asked: Mapping[str, str]) -> dict[str, Any]:
    """Return the academy's page: sums, and the list that was asked for. One query."""
    every = balances(coach=coach, day=day)
    show = asked["show"] if asked.get("show") in SHOWS else "open"
    return {
        "show": show, "day": day, "listed": paged([one for one in every if one.fits(show)], asked),
        "shows": [(key, name, sum(one.fits(key) for one in every)) for key, name in SHOWS.items()],
        "open_lessons": sum(one.left for one in every if one.usable),
        "liability_cents": sum(one.value_cents for one in every if one.usable),
        "run_out_lessons": sum(one.left for one in every if one.run_out),
    }


def student_page(*, student: Student, day: date) -> dict[str, Any]:
    """Return one student's balance, packages and whole ledger, newest line first. Three queries."""
    lines = list(
        PackageEntry.objects.filter(package__student=student)
        .select_related("package", "lesson", "created_by").order_by("-pk")
    )
    answered = {line.reverses for line in lines if line.reverses}
    for line in lines:
        line.can_go_back = line.reverses is None and line.code not in answered
        line.answered = line.code in answered
    packages = [_balance(one, day) for one in with_left(student.packages.all()).select_related("student")]
    return {"student": student, "left": left_of(student=student, day=day), "packages": packages, "lines": lines}


def expired_of(*, coach: Coach, day: date) -> list[Package]:
    """Return the packages with lessons that can no longer be used. One query."""
    return [one.package for one in balances(coach=coach, day=day) if one.run_out]


def ledger_csv(*, coach: Coach, since: date | None, until: date | None) -> bytes:
    """Return the lines of a period as CSV, oldest first, for the bookkeeper. One query."""
    lines = list(_lines(coach, since, until))
    return csv_bytes({
        "Date": [line.on_date for line in lines],
        "Student": [line.package.student.name for line in lines],
        "Package": [line.package.name for line in lines],
        "What": [line.get_kind_display() for line in lines],
        "Lessons": [line.lessons for line in lines],
        "Amount": [line.amount_cents / 100 for line in lines],
        "Invoice": [line.invoice for line in lines],
        "Takes another line back": [line.reverses is not None for line in lines],
        "Note": [line.note for line in lines],
        "Line": [str(line.code) for line in lines],
    })


def _lines(coach: Coach, since: date | None, until: date | None) -> QuerySet:
    rows = PackageEntry.objects.filter(package__student__in=Student.objects.visible_to(coach))
    if since:
        rows = rows.filter(on_date__gte=since)
    if until:
        rows = rows.filter(on_date__lt=until + timedelta(days=1))
    return rows.select_related("package__student").order_by("on_date", "pk")


def _balance(package: Package, day: date) -> Balance:
    can = usable(package, day)
    return Balance(
        package=package, left=package.left, usable=can, value_cents=package.value_cents(package.left),
        days=(package.expires_on - day).days if package.expires_on else None,
    )
