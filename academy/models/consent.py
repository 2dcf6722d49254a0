"""Guardians of juniors, and who allowed what until when."""

from django.db import models
from django.db.models import F, Q

from .base import Recorded
from .student import Student


class Guardian(Recorded):
    """A parent or other guardian; one may stand for several children."""

    name = models.CharField(max_length=120)
    email = models.EmailField(blank=True)
    phone = models.CharField(max_length=40, blank=True)
    students = models.ManyToManyField(Student, through="Guardianship", related_name="guardians")

    class Meta:
        ordering = ["name"]

    def __str__(self) -> str:
        return self.name


class Guardianship(Recorded):
    student = models.ForeignKey(Student, on_delete=models.CASCADE)
    guardian = models.ForeignKey(Guardian, on_delete=models.CASCADE)
    relation = models.CharField(max_length=40, default="parent")

    class Meta:
        constraints = [models.UniqueConstraint(fields=["student", "guardian"], name="one_guardianship_a_pair")]


class Consent(Recorded):
    """One permission for one thing: given by whom, from when until when, and whether withdrawn."""

    class Item(models.TextChoices):
        LESSONS = "lessons", "Lessons"
        FILMING = "filming", "Filming and photos"
        KEEPING = "keeping", "Keeping pictures"
        SHARING = "sharing", "Sharing pictures"
        MEDICAL = "medical", "Medical care in an emergency"
        TRAVEL = "travel", "Travel"
        MESSAGING = "messaging", "Messages"
        STATISTICS = "statistics", "Use in the academy's own statistics"

    student = models.ForeignKey(Student, on_delete=models.CASCADE, related_name="consents")
    item = models.CharField(max_length=10, choices=Item.choices)
    given_by_guardian = models.ForeignKey(Guardian, null=True, blank=True, on_delete=models.PROTECT)
    given_by_name = models.CharField(max_length=120)
    given_on = models.DateField()
    expires_on = models.DateField()
    withdrawn_on = models.DateField(null=True, blank=True)

    class Meta:
        ordering = ["item", "-given_on"]
        constraints = [
            models.CheckConstraint(condition=Q(expires_on__gte=F("given_on")), name="consent_ends_after_start")
        ]

    def valid_on(self, day) -> bool:
        withdrawn = self.withdrawn_on is not None and self.withdrawn_on <= day
        return self.given_on <= day <= self.expires_on and not withdrawn
