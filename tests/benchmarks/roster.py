"""The roster of 120 and of 2,000 students against one grouped SQL query and a template of the rows that are listed."""

from collections.abc import Iterator
from datetime import timedelta
from typing import Any

from .figure import Figure, seconds
from .ground import lay, opened, queries_of, signed_in
from .rows import a_student

_ROWS = """<table>{% for row in rows %}<tr><th>{{ row.name }}</th><td>{{ row.coach__username }}</td>
<td>{{ row.standing__last_visit_at|date:"j M Y" }}</td><td>{{ row.next_at|date:"j M" }}</td>
<td>{{ row.standing__verdict }}</td><td>{{ row.standing__verdict_sentence }}</td></tr>{% endfor %}</table>"""


def run() -> Iterator[Figure]:
    """Yield both figures; the number of queries stands in what was measured."""
    lay()
    student = a_student("Alba Rowe")
    client = signed_in(student.coach)
    page, small = opened(client, "/roster/"), opened(client, f"/floor/{student.code}/")
    for many in (120, 2000):
        _fill(student, many)

        def floor() -> str:
            small()
            return _listed(page_size=50)

        ours, least = seconds(page, floor, repeats=7)
        yield Figure(
            what=f"roster of {many:,} students ({queries_of(page)} queries, {len(page()) // 1000} kB)",
            ours=ours * 1000, floor=least * 1000, unit="ms", limit=3, direction="at most",
            why="the smallest view, one grouped SQL query over all students, and a template of the rows on one page.",
        )


def _listed(*, page_size: int) -> str:
    from django.db.models import Count, Min, Q
    from django.template import Context, Template

    from academy.models import Student

    rows = list(Student.objects.annotate(
        next_at=Min("lessons__starts_at", filter=Q(lessons__status="planned")), n=Count("lessons"),
    ).values(
        "code", "name", "coach__username", "status", "pause_reason", "standing__last_visit_at", "standing__verdict",
        "standing__verdict_sentence", "standing__trend", "standing__visits", "standing__return_visits",
        "standing__first_ten_visits", "standing__agreed_date", "standing__median_gap_days", "next_at",
    ))
    return Template(_ROWS).render(Context({"rows": rows[:page_size]}))


def _fill(student: Any, many: int) -> None:
    """Add students until there are so many, each with four finished lessons, one to come, and a standing."""
    from django.utils import timezone

    from academy.models import Student
    from lessons.models import Lesson, Standing

    now, coach = timezone.now(), student.coach
    fresh = Student.objects.bulk_create(
        Student(coach=coach, name=f"Student {number:04d}") for number in range(Student.objects.count(), many))
    Lesson.objects.bulk_create(
        Lesson(student=one, coach=coach, starts_at=now - timedelta(days=14 * back), minutes=60,
               status=Lesson.Status.FINISHED if back > 0 else Lesson.Status.PLANNED)
        for one in fresh for back in (56, 42, 28, 14, -3))
    Standing.objects.bulk_create(
        Standing(student=one, visits=4, return_visits=3, first_ten_visits=2, last_visit_at=now - timedelta(days=196),
                 median_gap_days=14, verdict="likely", verdict_sentence="Club path +5.6° before, +3.1° after.",
                 quantity="club_path_deg", trend=[5.6, 4.9, 3.4, 3.1], window=[-1.5, 1.5])
        for one in fresh)
