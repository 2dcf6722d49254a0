"""The library as the academy uses it: the shipped entries, their own, and their dated overrides."""

import hashlib
import json
from typing import Any

from django.db import models

from academy.models import Recorded, Student


def fingerprint(*, kind: str, slug: str, data: Any) -> str:
    """Return what tells one content of an entry from another."""
    text = json.dumps([str(kind), slug, data], sort_keys=True)
    return hashlib.sha256(text.encode()).hexdigest()[:24]


class LibraryEntry(models.Model):
    """One pattern, drill, setup window, effect or caution. Shipped rows are replaced by an upgrade, own ones
    never."""

    class Kind(models.TextChoices):
        PATTERN = "pattern", "Pattern"
        DRILL = "drill", "Drill"
        WINDOW = "window", "Setup window"
        EFFECT = "effect", "Effect of a setup change"
        CAUTION = "caution", "Body caution"
        SAFETY = "safety", "Duty of care"
        NORM = "norm", "Delivery norm"
        SETTING = "setting", "Statistical setting"

    kind = models.CharField(max_length=7, choices=Kind.choices)
    slug = models.CharField(max_length=60)
    title = models.CharField(max_length=160)
    data = models.JSONField()
    fingerprint = models.CharField(max_length=24, blank=True, default="", editable=False)
    """Of kind, slug and data; what a process that has read the library compares to know whether it changed."""
    is_own = models.BooleanField(default=False)
    retired_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["kind", "pk"]
        constraints = [models.UniqueConstraint(fields=["kind", "slug"], name="one_entry_a_slug")]

    def __str__(self) -> str:
        return self.title

    def save(self, *args: Any, update_fields: Any = None, **kwargs: Any) -> None:
        """Keep the fingerprint true, an undo included."""
        self.fingerprint = fingerprint(kind=self.kind, slug=self.slug, data=self.data)
        fields = None if update_fields is None else {*update_fields, "fingerprint"}
        super().save(*args, update_fields=fields, **kwargs)


class Override(Recorded):
    """The academy's or one student's own value in place of a shipped one, with its reason."""

    kind = models.CharField(max_length=7, choices=LibraryEntry.Kind.choices)
    slug = models.CharField(max_length=120)
    path = models.CharField(max_length=120, help_text="What it replaces, such as window/driver/feet_deg.")
    value = models.JSONField(help_text="low and high of a window, or watch and strong of a threshold.")
    reason = models.CharField(max_length=300)
    student = models.ForeignKey(Student, null=True, blank=True, on_delete=models.CASCADE, related_name="overrides")
    removed_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["pk"]
