"""The lessons app: what happens in and between lessons."""

from django.apps import AppConfig


class LessonsConfig(AppConfig):
    name = "lessons"

    def ready(self) -> None:
        from . import keeping  # noqa: F401  adds the lines of this room to what is kept and for how long
