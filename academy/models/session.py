"""Who is signed in where. Django's session with the person beside it, so that a device can be shown and ended."""

import hashlib

from django.contrib.sessions.base_session import AbstractBaseSession
from django.db import models

from .coach import Coach


class Session(AbstractBaseSession):
    """One browser's session; ``coach`` is empty for a student's phone and for whoever is not signed in."""

    coach = models.ForeignKey(Coach, null=True, on_delete=models.CASCADE, related_name="sessions")
    device = models.CharField(max_length=80, blank=True)
    began_at = models.DateTimeField(null=True)
    seen_at = models.DateTimeField(null=True)

    @property
    def code(self) -> str:
        """What a form calls this session: the key itself would be as good as being signed in."""
        return hashlib.sha256(f"holdfast.device:{self.session_key}".encode()).hexdigest()[:32]

    @classmethod
    def get_session_store_class(cls):
        from academy.sessions import SessionStore

        return SessionStore
