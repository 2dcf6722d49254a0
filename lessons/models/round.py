"""A round that was played, as its card says. The index it leads to is worked out, never stored."""

from django.db import models
from django.db.models import Q

from academy.models import Recorded, Student


class Round(Recorded):
    """One round. Eighteen holes need the course's numbers; nine need the differential the governing body gave."""

    class Holes(models.IntegerChoices):
        EIGHTEEN = 18, "18 holes"
        NINE = 9, "9 holes"

    student = models.ForeignKey(Student, on_delete=models.CASCADE, related_name="rounds")
    played_on = models.DateField()
    course = models.CharField(max_length=80, blank=True)
    holes = models.PositiveSmallIntegerField(choices=Holes.choices, default=Holes.EIGHTEEN)
    adjusted_gross = models.PositiveSmallIntegerField()
    course_rating = models.FloatField(null=True, blank=True)
    slope = models.PositiveSmallIntegerField(null=True, blank=True)
    pcc = models.SmallIntegerField(default=0)
    official_differential = models.FloatField(null=True, blank=True)
    official_index = models.FloatField(null=True, blank=True)
    """The index in effect that day, where it was typed in; it decides what is an exceptional score."""
    fairways = models.PositiveSmallIntegerField(null=True, blank=True)
    greens = models.PositiveSmallIntegerField(null=True, blank=True)
    putts = models.PositiveSmallIntegerField(null=True, blank=True)
    penalties = models.PositiveSmallIntegerField(null=True, blank=True)
    removed_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["played_on", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(slope__isnull=True) | Q(slope__gte=55, slope__lte=155), name="round_slope_possible"
            ),
            models.CheckConstraint(condition=Q(pcc__gte=-1, pcc__lte=3), name="round_pcc_possible"),
            models.CheckConstraint(
                condition=Q(official_differential__isnull=False)
                | Q(holes=18, course_rating__isnull=False, slope__isnull=False),
                name="round_has_its_numbers",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.adjusted_gross} on {self.played_on}"
