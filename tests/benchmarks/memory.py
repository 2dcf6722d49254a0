"""What the server holds after a thousand requests against what it held after a hundred."""

from collections.abc import Iterator

from .figure import Figure
from .ground import lay
from .rows import a_lesson_of_balls, thirty_visits
from .served import Visitor, server


def run() -> Iterator[Figure]:
    """Yield the figure; the pages are asked for in turn."""
    lay()
    student = thirty_visits(balls_a_visit=60)
    lesson = a_lesson_of_balls(student=student, balls=80)
    paths = [
        "/", f"/lessons/{lesson.code}/", f"/students/{student.code}/", f"/students/{student.code}/progress/",
        "/roster/", "/library/", f"/lessons/{lesson.code}/history/",
    ]
    with server() as served:
        visitor = Visitor(port=served.port, coach=student.coach)
        after = {}
        for number in range(1, 1001):
            status, _ = visitor.ask("GET", paths[number % len(paths)])
            if status != 200:
                raise RuntimeError(f"{paths[number % len(paths)]} answered {status}")
            if number in (100, 1000):
                after[number] = served.resident_mb
    yield Figure(
        what="memory of the server after 1,000 requests", ours=after[1000], floor=after[100], unit="MB", limit=1.1,
        direction="at most", why="the same process after 100 requests, when all its parts are loaded.",
    )
