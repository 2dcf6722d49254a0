"""The office: what was done about the rows of the Monday list, texts for messages, incidents, coaches' papers."""

from django.conf import settings
from django.db import models
from django.db.models import F, Q

from academy.models import Recorded, Student, Venue


class Cause(models.TextChoices):
    """Why somebody stands on the Monday list."""

    OVERDUE = "overdue", "Overdue"
    SHEET = "sheet", "Sheet not sent"
    QUESTION = "question", "Question unanswered"
    SILENT = "silent", "Practice silent"
    CONSENT = "consent", "Consent expiring"
    PACKAGE = "package", "Package ending"
    EQUIPMENT = "equipment", "Clubs to be checked"


OFF = "off"
"""The text for an hour that the academy cancels; nobody stands on the Monday list for it."""
TEXTS = [*Cause.choices, (OFF, "Hour cancelled")]


class QueueMark(Recorded):
    """What was done about one row of the list: done, or put off until a day, with the reason. It stays as a trace.

    ``about`` names the occasion, such as the last visit: a new occasion is a new row on the list.
    """

    student = models.ForeignKey(Student, on_delete=models.CASCADE, related_name="queue_marks")
    cause = models.CharField(max_length=9, choices=Cause.choices)
    about = models.CharField(max_length=80)
    until = models.DateField(null=True, blank=True, help_text="Put off until this day; empty means done.")
    reason = models.CharField(max_length=200, blank=True)
    removed_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-pk"]
        indexes = [models.Index(fields=["student", "cause", "about"], name="queue_mark_by_row")]


class MessageText(Recorded):
    """A text of the academy's own for one cause; words in braces are filled in for each student."""

    cause = models.CharField(max_length=9, choices=TEXTS, unique=True)
    subject = models.CharField(max_length=120)
    body = models.TextField(max_length=3000)

    class Meta:
        ordering = ["cause"]


class Incident(Recorded):
    """Something that went wrong or nearly did, and who looks after it until it is closed."""

    class Kind(models.TextChoices):
        INJURY = "injury", "Somebody was hurt"
        NEAR_MISS = "near_miss", "It nearly went wrong"
        CONDUCT = "conduct", "Behaviour"
        PROPERTY = "property", "Damage"
        OTHER = "other", "Something else"

    happened_on = models.DateField()
    kind = models.CharField(max_length=9, choices=Kind.choices)
    venue = models.ForeignKey(Venue, null=True, blank=True, on_delete=models.PROTECT, related_name="+")
    student = models.ForeignKey(Student, null=True, blank=True, on_delete=models.CASCADE, related_name="incidents")
    what = models.CharField(max_length=600, help_text="What happened, without what was hurt and without names.")
    health_text = models.CharField(
        max_length=600, blank=True, help_text="What was hurt. Only the writer, the student’s coach and the welfare "
        "lead read it.",
    )
    keeper = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="incidents")
    closed_on = models.DateField(null=True, blank=True)
    outcome = models.CharField(max_length=600, blank=True)

    class Meta:
        ordering = ["-happened_on", "-pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(closed_on__isnull=True) | Q(closed_on__gte=F("happened_on")),
                name="incident_closed_after_it_happened",
            )
        ]

    def __str__(self) -> str:
        return f"{self.get_kind_display()}, {self.happened_on}"


class CoachCheck(Recorded):
    """A paper that somebody who teaches juniors must have in date, such as a first-aid course."""

    class Kind(models.TextChoices):
        BACKGROUND = "background", "Background check"
        SAFEGUARDING = "safeguard", "Child-protection training"
        FIRST_AID = "first_aid", "First aid"

    coach = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="checks")
    kind = models.CharField(max_length=10, choices=Kind.choices)
    done_on = models.DateField()
    expires_on = models.DateField()

    class Meta:
        ordering = ["coach", "kind", "-expires_on"]
        constraints = [
            models.CheckConstraint(condition=Q(expires_on__gte=F("done_on")), name="coach_check_ends_after_start")
        ]
