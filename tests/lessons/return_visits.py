"""A student with one change in work, and visits whose first ten say what became of it."""

from lessons.models import Finding, Lesson, Prescription
from tests import factories


def balls(mean: float, n: int = 10) -> list[float]:
    return [mean + (1 if i % 2 else -1) * (0.4 + 0.1 * i) for i in range(n)]


def visit(student, days_ago: int, *, first: float, end: float | None = None, **values) -> Lesson:
    """A finished visit: a first ten with this mean path, and, where a change was made, ten balls after it."""
    lesson = factories.make_lesson(student=student, days_ago=days_ago, status=Lesson.Status.FINISHED, **values)
    hit(lesson, "first_ten", first)
    if end is not None:
        hit(lesson, "no_aid", end)
    return lesson


def hit(lesson: Lesson, purpose: str, mean: float) -> None:
    block = factories.make_block(
        lesson=lesson, purpose=purpose, intent="draw", **({"feedback_shown": False} if purpose == "first_ten" else {}))
    factories.add_balls(block=block, club_path_deg=balls(mean))


def with_a_change(student):
    """A draw player whose path went from 9 to 3 at a visit four weeks ago, with the change written down."""
    student.handicap_index = 10
    student.practice_minutes_week = 60
    student.save()
    lesson = visit(student, 28, first=9.0, end=3.0)
    finding = Finding.objects.create(
        lesson=lesson, block=lesson.blocks.first(), pattern="over_draw", title="Path too far out", state="supported")
    Prescription.objects.create(lesson=lesson, finding=finding, change="Feet square", cue="rails beside it")
    return student
