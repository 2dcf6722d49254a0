"""The academy app: the people, their rights, their private links."""

from django.apps import AppConfig
from django.contrib.auth.signals import user_logged_in


class AcademyConfig(AppConfig):
    name = "academy"

    def ready(self) -> None:
        from . import checks  # noqa: F401  registers the system checks

        user_logged_in.connect(end_private_stay, dispatch_uid="end_private_stay")


def end_private_stay(sender, request, user, **kwargs) -> None:
    """Give a coach who signs in the usual length of stay, on a device that had a student's page open for months."""
    if request is not None and hasattr(request, "session"):
        request.session.set_expiry(None)
