"""Every page of one coach with ten thousand balls in the database, and with a million: it must not notice."""

import os
import shutil
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

from .figure import Figure
from .ground import lay, opened, queries_of, signed_in
from .rows import shot_columns

STUDENTS, VISITS, BALLS = 10, 10, 100
TIMES = int(os.environ.get("HOLDFAST_BENCHMARK_TIMES", "100"))
"""How many times as many balls there are in the grown database; all of them other coaches' students'."""
REPEATS = 7
_WHY = "the same page of the same coach and student with 10,000 balls in the database, visited in turn with this."


def run() -> Iterator[Figure]:
    """Yield a figure a page, in two databases that are open in turn: as it was, and grown by other coaches."""
    lay()
    from django.db import connection

    students, other = _ten_thousand()
    client = signed_in(students[0].coach)
    pages = {name: opened(client, path) for name, path in _paths(students[0]).items()}
    pages["private page"] = _private(students[0])
    small = Path(connection.settings_dict["NAME"])
    large = small.with_name("grown.sqlite3")
    connection.close()
    shutil.copy(small, large)
    _switch(large)
    balls = _grow(other)
    for name, page in pages.items():
        yield from _figures(name, page, balls, small, large)
    _switch(small)


def _figures(name: str, page: Callable[[], bytes], balls: int, small: Path, large: Path) -> Iterator[Figure]:
    least, asked = {small: float("inf"), large: float("inf")}, {}
    for _ in range(REPEATS):
        for database in least:
            _switch(database)
            asked[database] = queries_of(page)  # visits it twice: afterwards everything is warm
            begin = time.process_time()
            page()
            least[database] = min(least[database], time.process_time() - begin)
    yield Figure(
        what=f"{name} at {balls:,} balls", ours=least[large] * 1000, floor=least[small] * 1000, unit="ms", limit=1.25,
        direction="at most", why=_WHY,
    )
    yield Figure(
        what=f"{name}, queries", ours=asked[large], floor=asked[small], unit="queries", limit=1, direction="at most",
        why=_WHY,
    )


def _ten_thousand() -> tuple[list[Any], Any]:
    """Return the students of one coach, with ten thousand balls, and another coach who will teach the rest."""
    from lessons.models import Lesson
    from lessons.services.standing import refresh_standing
    from tests import factories

    factories.make_academy()
    coach, other = (factories.make_coach(name, first_name=name, is_coach=True) for name in ("growing", "others"))
    students = [factories.make_student(coach=coach, name=f"Player {number}") for number in range(STUDENTS)]
    for student in students:
        for visit in range(VISITS):
            status = Lesson.Status.RUNNING if visit == VISITS - 1 else Lesson.Status.FINISHED
            lesson = factories.make_lesson(student=student, days_ago=14.0 * (VISITS - 1 - visit), status=status)
            for purpose, balls in (("first_ten", 10), ("no_aid", BALLS - 10)):
                block = factories.make_block(lesson=lesson, purpose=purpose)
                factories.add_balls(block=block, **shot_columns(count=balls, seed=student.pk * 100 + visit))
        refresh_standing(student=student)
    return students, other


def _paths(student: Any) -> dict[str, str]:
    lesson = student.lessons.order_by("-starts_at").first()
    here = f"/students/{student.code}/"
    return {
        "Today": "/", "lesson": f"/lessons/{lesson.code}/", "history of a lesson": f"/lessons/{lesson.code}/history/",
        "student": here, "progress": f"{here}progress/", "roster": "/roster/", "diary": "/diary/",
        "Monday": "/monday/", "figures": "/figures/", "library": "/library/", "students": "/students/",
    }


def _private(student: Any) -> Callable[[], bytes]:
    from django.test import Client

    from academy.share import issue_link

    phone = Client()
    phone.post(f"/p/{issue_link(student=student, by=student.coach)[1]}/", {"open": "1"})
    return opened(phone, "/me/")


def _switch(database: Path) -> None:
    from django.db import connection

    connection.close()
    connection.settings_dict["NAME"] = str(database)


def _grow(other: Any) -> int:
    """Copy all students with everything they have, for another coach, and return how many balls there are then.

    By SQL, because the rows are only to be there: each copy's keys are moved by a step of its own.
    """
    from django.db import connection

    from academy.models import Change, Student
    from lessons.models import Block, Lesson, Shot, Standing

    models = (Student, Lesson, Block, Shot, Standing, Change)
    with connection.cursor() as cursor:
        step = 1 + max(model.objects.order_by("-pk").values_list("pk", flat=True).first() for model in models)
        for model in models:
            fields = model._meta.concrete_fields
            values = ", ".join(_copied(field, models, other, step) for field in fields)
            names = ", ".join(f'"{field.column}"' for field in fields)
            cursor.execute(
                f"WITH RECURSIVE copy(n) AS (SELECT 1 UNION ALL SELECT n + 1 FROM copy WHERE n < {TIMES - 1}) "
                f'INSERT INTO "{model._meta.db_table}" ({names}) '
                f'SELECT {values} FROM copy CROSS JOIN "{model._meta.db_table}"'
            )
    return Shot.objects.count()


def _copied(field: Any, models: tuple[Any, ...], other: Any, step: int) -> str:
    from academy.models import Coach

    column = f'"{field.column}"'
    if field.primary_key or field.related_model in models:
        return f"{column} + n * {step}"
    if field.related_model is Coach:
        return f"CASE WHEN {column} IS NULL THEN NULL ELSE {other.pk} END"
    return "lower(hex(randomblob(16)))" if field.unique or field.name == "lesson_code" else column


if __name__ == "__main__":
    for figure in run():
        print(figure.what, figure.ratio, figure.ok)
