"""Packages of lessons as a ledger: rows are added, never changed; what is left is their sum."""

from django.db import models
from django.db.models import F, Q, Sum

from academy.journal import CannotUndo
from academy.models import Recorded, Student

from .lesson import Lesson


class Package(Recorded):
    """Lessons paid for together. How many are left stands in no column: it is the sum of the entries."""

    student = models.ForeignKey(Student, on_delete=models.CASCADE, related_name="packages")
    name = models.CharField(max_length=80)
    lessons = models.PositiveSmallIntegerField(help_text="How many it began with.")
    price_cents = models.PositiveIntegerField(default=0, help_text="Price of the whole, in hundredths.")
    starts_on = models.DateField()
    expires_on = models.DateField(null=True, blank=True, help_text="The last day on which it can be used.")
    removed_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["starts_on", "pk"]
        constraints = [
            models.CheckConstraint(condition=Q(lessons__gte=1), name="package_holds_a_lesson"),
            models.CheckConstraint(
                condition=Q(expires_on__isnull=True) | Q(expires_on__gte=F("starts_on")),
                name="package_ends_after_start",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    def value_cents(self, lessons: int) -> int:
        """Return what that many of its lessons are worth, to the nearest hundredth."""
        return round(self.price_cents * lessons / self.lessons)

    def balance(self) -> int:
        """Return how many lessons the entries leave, expired or not. One query."""
        return self.entries.aggregate(left=Sum("lessons"))["left"] or 0


class PackageEntry(Recorded):
    """One line of the ledger. A line that was wrong is answered by a second one with the opposite sign."""

    class Kind(models.TextChoices):
        BOUGHT = "bought", "Bought"
        USED = "used", "Used"
        EXPIRED = "expired", "Expired"
        MOVED_OUT = "moved_out", "Given to another student"
        MOVED_IN = "moved_in", "Taken over from another student"
        REFUNDED = "refunded", "Refunded"

    ADDS = (Kind.BOUGHT, Kind.MOVED_IN)

    package = models.ForeignKey(Package, on_delete=models.CASCADE, related_name="entries")
    kind = models.CharField(max_length=9, choices=Kind.choices)
    lessons = models.SmallIntegerField(help_text="+ adds lessons, − takes them away.")
    amount_cents = models.IntegerField(default=0, help_text="Money noted: + came in, − went back.")
    invoice = models.CharField(max_length=40, blank=True)
    on_date = models.DateField()
    lesson = models.ForeignKey(
        Lesson, null=True, blank=True, on_delete=models.SET_NULL, related_name="package_entries"
    )
    transfer = models.UUIDField(null=True, blank=True, help_text="The same on both sides of a transfer.")
    reverses = models.UUIDField(null=True, blank=True, unique=True, help_text="Code of the line this one answers.")
    note = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ["on_date", "pk"]
        verbose_name_plural = "package entries"
        constraints = [
            models.CheckConstraint(condition=~Q(lessons=0), name="package_entry_moves_lessons"),
            models.CheckConstraint(
                condition=Q(reverses__isnull=False) | Q(kind__in=["bought", "moved_in"], lessons__gt=0)
                | Q(kind__in=["used", "expired", "moved_out", "refunded"], lessons__lt=0),
                name="package_entry_sign_fits_kind",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_kind_display()}: {abs(self.lessons)}"

    def save(self, *args, **kwargs) -> None:
        """Insert only: what stands in a ledger is not written over."""
        if not self._state.adding:
            raise TypeError("A line of the ledger is never changed; add one that answers it.")
        super().save(*args, **kwargs)

    def answer(self, *, by) -> "PackageEntry":
        """Return the line that takes this one back; not stored yet."""
        return PackageEntry(
            package=self.package, kind=self.kind, lessons=-self.lessons, amount_cents=-self.amount_cents,
            invoice=self.invoice, on_date=self.on_date, lesson=self.lesson, transfer=self.transfer,
            reverses=self.code, note="Taken back", created_by=by,
        )

    @classmethod
    def take_back(cls, keys: list[int], *, by) -> None:
        """Answer these lines, as an undo of the journal does; those that were answered already stay as they are."""
        for line in cls.objects.filter(pk__in=keys).select_related("package"):
            if cls.objects.filter(reverses=line.code).exists():
                continue
            if line.package.removed_at is not None:
                raise CannotUndo(f"“{line.package}” itself was taken back; sell it anew instead.")
            check_left(line.package, after=-line.lessons)
            line.answer(by=by).save(force_insert=True)


def check_left(package: Package, *, after: int) -> None:
    """Raise CannotUndo where a change of that many lessons would leave less than none."""
    left = package.balance()
    if left + after < 0:
        raise CannotUndo(
            f"Of “{package}” only {left} lesson{'s are' if left != 1 else ' is'} left, and {-after} would go. "
            "Take back what used them first."
        )
