"""Sources of numbers and their tokens: issued, shown once, revoked, counted."""

import hmac
import secrets
from datetime import datetime, timedelta

from django.db import transaction
from django.utils import timezone

from academy.models import Coach
from academy.share import PREFIX_LENGTH, keyed_digest
from lessons.models import DataSource

MESSAGES_A_MINUTE = 120
MINUTE = timedelta(minutes=1)


def add_source(*, by: Coach, name: str, **values: str) -> DataSource:
    """Store a new source; raises ValidationError where the name is taken."""
    source = DataSource(name=name, created_by=by, **values)
    source.full_clean()
    source.save()
    return source


def issue_token(*, source: DataSource) -> str:
    """Give a source a new token and return it; the old one ends. It is shown once: what is kept is its digest.

    Not in the journal: an undo would bring a token back that was taken away.
    """
    prefix = _unused_prefix()
    token = prefix + secrets.token_urlsafe(32)
    source.token_prefix, source.token_revoked_at = prefix, None
    source.token_digest = keyed_digest(purpose="source", secret=token)
    source.save(update_fields=["token_prefix", "token_digest", "token_revoked_at"])
    return token


def revoke_token(*, source: DataSource) -> None:
    """End a source's token at once."""
    if source.token_digest and source.token_revoked_at is None:
        source.token_revoked_at = timezone.now()
        source.save(update_fields=["token_revoked_at"])


def source_of_token(*, token: str) -> DataSource | None:
    """Return the source of a working token; None for unknown and revoked alike. One query.

    The digests are compared in constant time, and one is computed even where the prefix is unknown.
    """
    prefix = token[:PREFIX_LENGTH]
    # What no token begins with is not asked of the database, which may not even be able to hold it.
    known = prefix.isascii() and prefix.isprintable() and len(prefix) == PREFIX_LENGTH
    source = DataSource.objects.filter(token_prefix=prefix).first() if known else None
    digest = keyed_digest(purpose="source", secret=token)
    matches = hmac.compare_digest(digest, source.token_digest if source else "0" * 64)
    return source if source and matches and source.token_revoked_at is None else None


@transaction.atomic
def seconds_to_wait(*, source: DataSource, now: datetime) -> int:
    """Count one message of a source; return 0, or how long it has to wait because it sent too many.

    The count lies in the database, so it holds across processes and restarts. A clock that went back begins anew.
    """
    locked = DataSource.objects.select_for_update().get(pk=source.pk)
    began = locked.minute_began_at
    if began is None or not timedelta(0) <= now - began < MINUTE:
        began, locked.minute_calls = now, 0
    if locked.minute_calls >= MESSAGES_A_MINUTE:
        return max(1, int((began + MINUTE - now).total_seconds()) + 1)
    DataSource.objects.filter(pk=source.pk).update(
        minute_began_at=began, minute_calls=locked.minute_calls + 1, seen_at=now
    )
    return 0


def _unused_prefix() -> str:
    while True:
        prefix = secrets.token_urlsafe(6)[:PREFIX_LENGTH]
        if not DataSource.objects.filter(token_prefix=prefix).exists():
            return prefix
