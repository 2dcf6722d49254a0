"""One hour of a player, as rows: what a lesson looks like when its findings are read."""

from django.urls import reverse

from lessons.models import Block, Lesson
from tests import factories
from tests.metrics.rules.cases import column


def draw_lesson(*, student, aids=(), path=5.7, **values) -> Lesson:
    """Ten driver balls of a player who wants a draw and swings too far in-to-out."""
    lesson = factories.make_lesson(student=student, **values)
    strike(lesson=lesson, path=path, aids=list(aids), purpose="first_ten")
    return lesson


def strike(*, lesson: Lesson, path: float, sd: float = 1.8, n: int = 10, **values) -> Block:
    """Add a driver block with this mean path; numbers are stored player-relative, as the door leaves them."""
    block = factories.make_block(lesson=lesson, intent=values.pop("intent", "draw"), **values)
    factories.add_balls(
        block=block, club_path_deg=list(column(path, sd, n)), face_to_path_deg=list(column(-2.4, 1.5, n)),
        launch_direction_deg=list(column(3.0, 1.5, n)),
    )
    lesson.__dict__.pop("present_blocks", None)
    return block


def note_setup(client, lesson: Lesson, **values) -> object:
    """Type setup numbers before the change: ``note_setup(client, lesson, feet_deg="7")``."""
    boxes = {f"before-{key}": value for key, value in values.items()}
    return client.post(reverse("lessons:look", args=[lesson.code]), boxes)


def stop(client, lesson: Lesson, slug: str) -> str:
    """Return one stop as the page gets it."""
    url = reverse("lessons:stop", args=[lesson.code, slug])
    return client.get(url, headers={"HX-Request": "true"}).content.decode()


def data_of(client, lesson: Lesson, slug: str) -> dict:
    """Return what a stop's template was given."""
    url = reverse("lessons:stop", args=[lesson.code, slug])
    return client.get(url, headers={"HX-Request": "true"}).context["stop"]["data"]
