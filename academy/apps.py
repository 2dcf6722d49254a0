"""The academy app: the people, their rights, their private links."""

from django.apps import AppConfig


class AcademyConfig(AppConfig):
    name = "academy"

    def ready(self) -> None:
        from . import checks  # noqa: F401  registers the system checks
