"""The library as the academy uses it: the shipped entries, their own, and their dated overrides."""

from django.db import models

from academy.models import Recorded, Student


class LibraryEntry(models.Model):
    """One pattern, drill, setup window, effect or caution. Shipped rows are replaced by an upgrade, own ones
    never."""

    class Kind(models.TextChoices):
        PATTERN = "pattern", "Pattern"
        DRILL = "drill", "Drill"
        WINDOW = "window", "Setup window"
        EFFECT = "effect", "Effect of a setup change"
        CAUTION = "caution", "Caution"

    kind = models.CharField(max_length=7, choices=Kind.choices)
    slug = models.CharField(max_length=60)
    title = models.CharField(max_length=160)
    data = models.JSONField()
    is_own = models.BooleanField(default=False)
    retired_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["kind", "pk"]
        constraints = [models.UniqueConstraint(fields=["kind", "slug"], name="one_entry_a_slug")]

    def __str__(self) -> str:
        return self.title


class Override(Recorded):
    """The academy's or one student's own value in place of a shipped one, with its reason."""

    kind = models.CharField(max_length=7, choices=LibraryEntry.Kind.choices)
    slug = models.CharField(max_length=60)
    path = models.CharField(max_length=120, help_text="Which value of the entry, such as feet_deg.upper.")
    value = models.JSONField()
    reason = models.CharField(max_length=300)
    student = models.ForeignKey(Student, null=True, blank=True, on_delete=models.CASCADE, related_name="overrides")
    removed_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["pk"]
