"""A block: the balls hit under one set of conditions. A number counts only with its block."""

from django.db import models
from django.db.models import Q

from academy.models import Club, Recorded
from academy.models.club import CATEGORY_CHOICES, Intent
from metrics.clubs import CATEGORIES

from .lesson import Lesson

AIDS: dict[str, str] = {
    "sticks": "Alignment sticks",
    "gate": "Gate",
    "barrier": "Soft barrier",
    "towel": "Towel",
    "mirror": "Mirror",
    "line": "Line on the ground",
    "feel": "Rehearsal before each ball",
    "helper": "Coach's hand or club",
    "other": "Another aid",
}


class Block(Recorded):
    """Balls of one club, one intent, one state of aids, one purpose."""

    class Purpose(models.TextChoices):
        FIRST_TEN = "first_ten", "First ten, no aids, no advice"
        ADAPT = "adapt", "Getting used to it"
        WITH_AID = "with_aid", "With aids"
        NO_AID = "no_aid", "Without aids"
        TRANSFER = "transfer", "Transfer"
        TEST = "test", "Test"
        EXPLORE = "explore", "Looking around"

    class Reading(models.TextChoices):
        NUMBERS = "numbers", "Numbers"
        CALLS = "calls", "Called by eye"

    lesson = models.ForeignKey(Lesson, on_delete=models.CASCADE, related_name="blocks")
    position = models.PositiveSmallIntegerField()
    club = models.ForeignKey(Club, null=True, blank=True, on_delete=models.PROTECT, related_name="blocks")
    club_name = models.CharField(max_length=40)
    category = models.CharField(max_length=16, choices=CATEGORY_CHOICES)
    intent = models.CharField(max_length=8, choices=Intent.Shape.choices, default=Intent.Shape.STRAIGHT)
    aids = models.JSONField(default=list, blank=True)
    purpose = models.CharField(max_length=9, choices=Purpose.choices, default=Purpose.NO_AID)
    effort_pct = models.PositiveSmallIntegerField(default=100)
    feedback_shown = models.BooleanField(default=True)
    is_mixed = models.BooleanField(default=False, help_text="Targets or clubs mixed from ball to ball.")
    reading = models.CharField(max_length=7, choices=Reading.choices, default=Reading.NUMBERS)
    is_tee = models.BooleanField(default=False)
    wanted_balls = models.PositiveSmallIntegerField(default=10)
    summary = models.JSONField(default=dict, blank=True, editable=False)
    """Derived numbers, written when a ball changes; see lessons.summaries."""
    summary_version = models.CharField(max_length=40, blank=True, editable=False)
    removed_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["position", "pk"]
        constraints = [
            models.CheckConstraint(condition=Q(category__in=list(CATEGORIES)), name="block_category_known"),
            models.CheckConstraint(
                condition=Q(effort_pct__gte=1, effort_pct__lte=110), name="block_effort_sensible"
            ),
            models.CheckConstraint(
                condition=~Q(purpose="first_ten") | Q(aids=[]), name="block_first_ten_has_no_aids"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.club_name}, {self.get_purpose_display().lower()}"

    @property
    def with_aids(self) -> bool:
        return bool(self.aids)

    @property
    def aid_labels(self) -> list[str]:
        return [AIDS.get(aid, aid) for aid in self.aids]
