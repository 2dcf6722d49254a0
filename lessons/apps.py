"""The lessons app: what happens in and between lessons."""

from typing import Any

from django.apps import AppConfig
from django.db.models.signals import post_migrate


class LessonsConfig(AppConfig):
    name = "lessons"

    def ready(self) -> None:
        from . import keeping  # noqa: F401  adds the lines of this room to what is kept and for how long

        post_migrate.connect(forget_prepared, sender=self)


def forget_prepared(*, using: str, plan: Any = None, **_: Any) -> None:
    """After an update the program may say the same rows in other numbers or words."""
    from django.db import connections

    from .models import Prepared

    if Prepared._meta.db_table in connections[using].introspection.table_names():
        Prepared.objects.using(using).all().delete()
