"""The lessons app: what happens in and between lessons."""

from django.apps import AppConfig


class LessonsConfig(AppConfig):
    name = "lessons"
