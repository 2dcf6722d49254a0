"""The academy app: the people, their rights, their private links."""

from django.apps import AppConfig
from django.contrib.auth.signals import user_logged_in
from django.utils import timezone


class AcademyConfig(AppConfig):
    name = "academy"

    def ready(self) -> None:
        from . import checks  # noqa: F401  registers the system checks

        user_logged_in.connect(begin_stay, dispatch_uid="begin_stay")


def begin_stay(sender, request, user, **kwargs) -> None:
    """Note when and on what somebody signed in; see academy.stay."""
    from . import stay

    if request is not None and hasattr(request, "session"):
        stay.begin(request=request, now=timezone.now())
