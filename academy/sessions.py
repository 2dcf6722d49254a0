"""The session engine: Django's own in the database, with the person and the device beside each session."""

from datetime import datetime
from typing import Any

from django.contrib.sessions.backends import db

from .models import Session

BEGAN, SEEN, DEVICE = "began_at", "seen_at", "device"
"""Keys in a signed-in session: ISO times and words."""


class SessionStore(db.SessionStore):
    """Keeps the name of Django's class: it salts the stored data, and older sessions stay readable."""

    @classmethod
    def get_model_class(cls) -> type[Session]:
        return Session

    def create_model_instance(self, data: dict[str, Any]) -> Session:
        row = super().create_model_instance(data)
        row.coach_id = data.get("_auth_user_id")
        row.device = data.get(DEVICE, "")[:80]
        row.began_at, row.seen_at = (_moment(data.get(key)) for key in (BEGAN, SEEN))
        return row


def _moment(text: str | None) -> datetime | None:
    return datetime.fromisoformat(text) if text else None
