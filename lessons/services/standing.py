"""Keeping each student's standing, the one row the roster reads."""

from statistics import median

from django.utils import timezone

from academy.models import Student
from lessons.models import Block, Lesson, Standing
from lessons.own_settings import in_force
from lessons.queries.held import held_for


@in_force()
def refresh_standing(*, student: Student) -> Standing:
    """Recompute and store where a student stands. Called when a finished lesson changes."""
    visits = list(
        Lesson.objects.filter(student=student, status=Lesson.Status.FINISHED, kind=Lesson.Kind.LESSON)
        .order_by("starts_at").only("pk", "starts_at", "next_date")
    )
    with_first_ten = set(
        Block.objects.filter(lesson__in=visits, purpose=Block.Purpose.FIRST_TEN, removed_at__isnull=True)
        .exclude(summary__balls=0).values_list("lesson_id", flat=True)
    )
    gaps = [
        (later.starts_at - earlier.starts_at).days for earlier, later in zip(visits, visits[1:], strict=False)
    ]
    held = held_for(student=student)
    standing, _ = Standing.objects.update_or_create(student=student, defaults={
        "visits": len(visits),
        "first_visit_at": visits[0].starts_at if visits else None,
        "last_visit_at": visits[-1].starts_at if visits else None,
        "agreed_date": visits[-1].next_date if visits else None,
        "median_gap_days": median(gaps) if gaps else None,
        "return_visits": max(0, len(visits) - 1),
        "first_ten_visits": sum(visit.pk in with_first_ten for visit in visits[1:]),
        "verdict": held.code, "verdict_sentence": held.sentence[:400], "quantity": held.quantity,
        "student_sentence": held.student_sentence[:400],
        "trend": held.trend, "window": held.window, "refreshed_at": timezone.now(),
    })
    return standing


def follow(lesson: Lesson) -> None:
    """Keep the standing true where something of a finished lesson was corrected; cheap where it is still running."""
    if lesson.status == Lesson.Status.FINISHED:
        refresh_standing(student=lesson.student)
