"""A device's file of 500 balls dropped into a lesson: from the upload to the lesson that shows it."""

from collections.abc import Iterator
from itertools import count

from .figure import Figure, seconds
from .ground import lay, signed_in
from .imports import file_of, floor_for
from .rows import a_student

_BALLS = 500


def run() -> Iterator[Figure]:
    """Yield server time, and its ratio to reading, writing and flying the same rows."""
    lay()
    from tests import factories

    coach = a_student().coach
    client = signed_in(coach)
    seeds = count(100)
    cases = []
    for _ in range(12):
        student = factories.make_student(coach=coach, name="Nell Quist")
        lesson = factories.make_lesson(student=student, temperature_c=14, pressure_hpa=1012)
        cases.append((lesson, file_of(count=_BALLS, seed=next(seeds))))
    waiting = iter(cases)

    def ours() -> None:
        lesson, data = next(waiting)
        looked = client.post(f"/lessons/{lesson.code}/import/", {"file": _named(data)}, follow=True)
        path = looked.redirect_chain[-1][0]
        done = client.post(f"{path}store/", follow=True)
        if b"500" not in done.content or lesson.blocks.count() != 1:
            raise RuntimeError(f"the file was not stored: {path}")

    floor = floor_for(_BALLS)
    work, least = seconds(ours, lambda: floor(cases[0][1]), repeats=9)
    yield Figure(
        what="500 balls, upload, preview, store, lesson shown", ours=work * 1000, floor=100.0, unit="ms", limit=1,
        direction="at most", why="a tenth of a second is what a person takes for at once.",
    )
    yield Figure(
        what="the same against reading, writing and flying", ours=work * 1000, floor=least * 1000, unit="ms", limit=4,
        direction="at most",
        why="pandas' C reader, raw executemany of the finished rows, one flight of all launches.",
    )


def _named(data: bytes):
    from django.core.files.uploadedfile import SimpleUploadedFile

    return SimpleUploadedFile("bay-3.csv", data, content_type="text/csv")
