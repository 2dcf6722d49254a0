"""A lesson: the hour, its conditions, and what was agreed at its end."""

from django.conf import settings
from django.db import models
from django.db.models import Q

from academy.models import Recorded, Student, Venue


class BallType(models.TextChoices):
    UNKNOWN = "", "Not noted"
    OWN = "own", "Own ball"
    PREMIUM = "premium", "Premium ball"
    RANGE = "range", "Range ball"
    LIMITED = "limited", "Limited-flight ball"
    FOAM = "foam", "Foam ball"


class LessonQuerySet(models.QuerySet):
    def visible_to(self, coach) -> "LessonQuerySet":
        """Return the lessons of students this person may see."""
        return self.filter(student__in=Student.objects.visible_to(coach))

    def done(self) -> "LessonQuerySet":
        return self.filter(status=Lesson.Status.FINISHED)


class Lesson(Recorded):
    """One visit. The conditions are the visit's; a block may narrow them, never change them."""

    class Status(models.TextChoices):
        PLANNED = "planned", "Planned"
        RUNNING = "running", "Running"
        FINISHED = "finished", "Finished"
        CANCELLED = "cancelled", "Cancelled"
        NO_SHOW = "no_show", "Did not come"

    class Kind(models.TextChoices):
        LESSON = "lesson", "Lesson"
        TEST = "test", "Test"
        COURSE = "course", "On the course"
        GROUP = "group", "Group"
        PRACTICE = "practice", "Practice"

    class Practised(models.TextChoices):
        UNKNOWN = "", "Not asked"
        NO = "no", "No"
        SOME = "some", "Some"
        YES = "yes", "Yes"

    student = models.ForeignKey(Student, on_delete=models.CASCADE, related_name="lessons")
    coach = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="lessons")
    kind = models.CharField(max_length=8, choices=Kind.choices, default=Kind.LESSON)
    status = models.CharField(max_length=9, choices=Status.choices, default=Status.PLANNED)
    starts_at = models.DateTimeField(db_index=True)
    minutes = models.PositiveSmallIntegerField(default=60)
    started_at = models.DateTimeField(null=True, blank=True)
    finished_at = models.DateTimeField(null=True, blank=True)

    venue = models.ForeignKey(Venue, null=True, blank=True, on_delete=models.PROTECT, related_name="+")
    device = models.ForeignKey(
        "lessons.DataSource", null=True, blank=True, on_delete=models.PROTECT, related_name="+",
        help_text="Empty means eyes only.",
    )
    ball_type = models.CharField(max_length=8, choices=BallType.choices, blank=True, default="")
    temperature_c = models.FloatField(null=True, blank=True)
    pressure_hpa = models.FloatField(null=True, blank=True, help_text="At the place, not reduced to sea level.")
    wind_along_mps = models.FloatField(null=True, blank=True, help_text="+ is a tail wind; only if measured.")
    wind_cross_mps = models.FloatField(
        null=True, blank=True, help_text="+ blows toward the player's slice side; only if measured."
    )
    is_windy = models.BooleanField(default=False, help_text="Felt, not measured.")

    warmed_up = models.BooleanField(null=True, blank=True)
    pain_asked = models.BooleanField(default=False)
    practised = models.CharField(max_length=5, choices=Practised.choices, blank=True, default="")
    played = models.CharField(max_length=200, blank=True)
    second_adult = models.CharField(max_length=80, blank=True)

    goal = models.CharField(max_length=200, blank=True)
    belief = models.CharField(
        max_length=200, blank=True, default="", help_text="What the student takes for the cause, before numbers."
    )
    first_measure = models.CharField(max_length=200, blank=True)
    """What to measure first today; carried over from the last visit's agreement."""
    next_measure = models.CharField(max_length=200, blank=True)
    next_date = models.DateField(null=True, blank=True)
    student_note = models.TextField(blank=True, help_text="What the student reads.")
    private_note = models.TextField(blank=True, help_text="The coach's own; never on the student's page.")
    reflection_good = models.CharField(max_length=200, blank=True, default="", help_text="What to keep; coach only.")
    reflection_other = models.CharField(
        max_length=200, blank=True, default="", help_text="What to do otherwise next time; coach only.")
    done_stops = models.JSONField(default=list, blank=True)

    reader = None
    """The coach who reads it in this request, set by lessons.access; without one no health is told."""

    objects = LessonQuerySet.as_manager()

    class Meta:
        ordering = ["-starts_at"]
        indexes = [models.Index(fields=["student", "-starts_at"], name="lesson_by_student")]
        constraints = [
            models.CheckConstraint(
                condition=Q(temperature_c__isnull=True) | Q(temperature_c__gte=-40, temperature_c__lte=60),
                name="lesson_temperature_on_earth",
            ),
            models.CheckConstraint(
                condition=Q(pressure_hpa__isnull=True) | Q(pressure_hpa__gte=500, pressure_hpa__lte=1100),
                name="lesson_pressure_on_earth",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.student} on {self.starts_at:%Y-%m-%d}"
