"""Packages: sold, used by a finished lesson, handed on, paid back, run out. Every step adds lines to the ledger.

No card is charged here: amounts and invoice numbers are noted for the bookkeeper.
"""

import uuid
from collections.abc import Iterable
from datetime import date

from django.core.exceptions import ValidationError
from django.db import transaction
from django.db.models import F, Q, Sum
from django.db.models.functions import Coalesce
from django.utils import timezone

from academy.journal import Entry, journal
from academy.models import Coach, Student
from lessons.models import Lesson, Package, PackageEntry

from .once import made_with

Kind = PackageEntry.Kind
COUNTED = (Lesson.Kind.LESSON, Lesson.Kind.TEST, Lesson.Kind.COURSE, Lesson.Kind.GROUP)
"""The kinds of lesson that use one of a package."""


@transaction.atomic
def sell_package(
    *, by: Coach, student: Student, key: uuid.UUID, name: str, lessons: int, price_cents: int = 0,
    invoice: str = "", starts_on: date | None = None, expires_on: date | None = None, source: str = "typed",
) -> Package:
    """Store a package that was bought. The same key is stored once, however often it is sent; ValidationError where
    it has sold another student's, or where the last day is over before the first."""
    Student.objects.select_for_update().only("pk").get(pk=student.pk)
    sold = made_with(key, rows=Package.objects.all(), student_id=student.pk)
    if sold is not None:
        return sold
    day = starts_on or timezone.localdate()
    _check_last_day(expires_on, first=day)
    package = Package(
        code=key, student=student, name=name, lessons=lessons, price_cents=price_cents, starts_on=day,
        expires_on=expires_on, source=source,
    )
    with journal(by=by, student=student, sentence=f"Package bought: {name}, {lessons} lessons") as entry:
        entry.create(package)
        entry.create(_line(package, Kind.BOUGHT, lessons, day, amount_cents=price_cents, invoice=invoice))
    return package


def use_for_lesson(*, entry: Entry, lesson: Lesson) -> PackageEntry | None:
    """Take one lesson for a finished one, in the caller's journal entry: from the package that ends first.

    None where no package has one left on that day, where the lesson has used one already, or uses none.
    """
    if lesson.kind not in COUNTED or _used_by(lesson) > 0:
        return None
    day = timezone.localdate(lesson.starts_at)
    _locked_all(Package.objects.filter(student=lesson.student_id))
    package = (
        Package.objects.filter(student=lesson.student_id, removed_at__isnull=True, starts_on__lte=day)
        .filter(Q(expires_on__isnull=True) | Q(expires_on__gte=day))
        .annotate(left=Coalesce(Sum("entries__lessons"), 0)).filter(left__gt=0)
        .order_by(F("expires_on").asc(nulls_last=True), "starts_on", "pk").first()
    )
    if package is None:
        return None
    line = _line(package, Kind.USED, -1, day, lesson=lesson)
    entry.create(line)
    return line


def give_back_for_lesson(*, entry: Entry, lesson: Lesson) -> None:
    """Answer what a lesson used, such as where the register was wrong, in the caller's journal entry."""
    lines = list(PackageEntry.objects.filter(lesson=lesson, kind=Kind.USED).select_related("package"))
    answered = {line.reverses for line in lines}
    for line in lines:
        if line.reverses is None and line.code not in answered:
            entry.create(line.answer(by=entry.by))


@transaction.atomic
def refund_package(
    *, by: Coach, package: Package, lessons: int, amount_cents: int, invoice: str = "", note: str = "",
) -> PackageEntry:
    """Take lessons out against money that went back; the amount is what was really paid back."""
    _take(package, lessons)
    paid = package.entries.aggregate(paid=Sum("amount_cents"))["paid"] or 0
    if amount_cents > paid:
        raise ValidationError(f"{amount_cents / 100:.2f} is more than the {paid / 100:.2f} that was paid for it.")
    line = _line(package, Kind.REFUNDED, -lessons, timezone.localdate(), amount_cents=-amount_cents,
                 invoice=invoice, note=note)
    return _store(by, package, f"{lessons} of “{package}” refunded", line)


@transaction.atomic
def move_package(*, by: Coach, package: Package, to: Student, lessons: int, note: str = "") -> Package:
    """Hand lessons on to another student, with their value and their last day. No money moves."""
    _take(package, lessons)
    if to.pk == package.student_id:
        raise ValidationError(f"These lessons are {to.first_name}’s already.")
    day, shared = timezone.localdate(), uuid.uuid4()
    target = Package(
        student=to, name=package.name, lessons=lessons, price_cents=package.value_cents(lessons), starts_on=day,
        expires_on=package.expires_on,
    )
    giver = package.student
    with journal(by=by, student=giver, sentence=f"{lessons} of “{package}” given to {to.name}") as entry:
        entry.create(_line(package, Kind.MOVED_OUT, -lessons, day, transfer=shared, note=note or f"To {to.name}"))
        entry.create(target)
        entry.create(_line(target, Kind.MOVED_IN, lessons, day, transfer=shared, note=note or f"From {giver.name}"))
    return target


@transaction.atomic
def write_off_expired(*, by: Coach | None, packages: Iterable[Package], day: date) -> int:
    """Enter what can no longer be used as expired; return how many lessons that were."""
    total = 0
    for package in _locked_all(packages):
        left = package.balance()
        if package.expires_on is not None and package.expires_on < day and left > 0:
            _store(by, package, f"{left} of “{package}” expired",
                   _line(package, Kind.EXPIRED, -left, package.expires_on))
            total += left
    return total


def set_last_day(*, by: Coach, package: Package, expires_on: date | None) -> Package:
    """Store another last day, such as after an injury. ValidationError where it lies before the first."""
    _check_last_day(expires_on, first=package.starts_on)
    with journal(by=by, student=package.student, sentence=f"Last day of “{package}” changed") as entry:
        entry.update(package, expires_on=expires_on)
    return package


@transaction.atomic
def take_line_back(*, by: Coach, line: PackageEntry) -> None:
    """Answer a line, both sides of it where it was a transfer. ValidationError says why that cannot be."""
    if line.reverses is not None:
        raise ValidationError("This line takes another one back; enter it anew instead.")
    if PackageEntry.objects.filter(reverses=line.code).exists():
        raise ValidationError("This line was taken back already.")
    sides = PackageEntry.objects.filter(transfer=line.transfer, reverses=None) if line.transfer else [line]
    package = line.package
    with journal(by=by, student=package.student, sentence=f"Taken back: {line} of “{package}”") as entry:
        for side in sides:
            _answer(entry, side, by)


def _answer(entry: Entry, line: PackageEntry, by: Coach) -> None:
    _locked_all([line.package])
    if line.package.removed_at is not None:
        raise ValidationError(f"“{line.package}” itself was taken back; sell it anew instead.")
    left = line.package.balance()
    if left - line.lessons < 0:
        raise ValidationError(
            f"Of “{line.package}” only {left} lesson{'s are' if left != 1 else ' is'} left; "
            f"{line.lessons} would go. Take back what used them first."
        )
    entry.create(line.answer(by=by))


def _check_last_day(day: date | None, *, first: date) -> None:
    if day is not None and day < first:
        raise ValidationError(f"{day:%-d %B %Y} lies before {first:%-d %B %Y}, its first day; expected a later day.")


def _take(package: Package, lessons: int) -> None:
    """Lock the package and refuse to take more than it holds."""
    _locked_all([package])
    left = package.balance()
    if lessons < 1:
        raise ValidationError(f"{lessons} lessons cannot be taken out; expected 1 or more.")
    if lessons > left:
        raise ValidationError(f"“{package}” has {left} left; {lessons} cannot be taken out.")


def _locked_all(packages: Iterable[Package]) -> list[Package]:
    keys = [package.pk for package in packages]
    return list(Package.objects.select_for_update(of=("self",)).filter(pk__in=keys).select_related("student"))


def _used_by(lesson: Lesson) -> int:
    used = PackageEntry.objects.filter(lesson=lesson, kind=Kind.USED).aggregate(sum=Sum("lessons"))["sum"] or 0
    return -used


def _line(package: Package, kind: str, lessons: int, day: date, **values) -> PackageEntry:
    return PackageEntry(
        package=package, kind=kind, lessons=lessons, on_date=day, **{"source": package.source, **values}
    )


def _store(by: Coach | None, package: Package, sentence: str, line: PackageEntry) -> PackageEntry:
    with journal(by=by, student=package.student, sentence=sentence) as entry:
        entry.create(line)
    return line

