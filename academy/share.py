"""Private links and one-time entries: issue, find, exchange, revoke.

The secret is 32 random bytes. What is stored is a look-up prefix and a digest keyed with the installation's
secret key, so that a stolen database opens no page.
"""

import hashlib
import hmac
import secrets
from datetime import datetime, timedelta

from django.conf import settings
from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone

from .models import Academy, Coach, EntryLink, Guardian, ShareLink, Student

PREFIX_LENGTH = 8
TRIES, TRIES_WINDOW = 10, timedelta(hours=1)
SEEN_AGAIN = timedelta(minutes=1)
LONGEST_DAYS = 400


def keyed_digest(*, purpose: str, secret: str) -> str:
    """Return the hex HMAC-SHA-256 of a secret under the installation's key; the purpose keeps uses apart."""
    key = hashlib.sha256(f"holdfast.{purpose}:{settings.SECRET_KEY}".encode()).digest()
    return hmac.new(key, secret.encode(), hashlib.sha256).hexdigest()


def issue_link(
    *, student: Student, by: Coach | None, guardian: Guardian | None = None, second_factor: str = "",
    days: int | None = None, source: str = "typed",
) -> tuple[ShareLink, str]:
    """Make a link and return it with its token, which is shown once and cannot be had again.

    Raises ValidationError with a sentence where the rules for juniors forbid it.
    """
    check_receiver(student=student, guardian=guardian)
    if days is None:
        days = Academy.objects.values_list("link_days", flat=True).first() or 180
    prefix = _unused_prefix()
    token = prefix + secrets.token_urlsafe(32)
    link = ShareLink.objects.create(
        student=student, guardian=guardian, prefix=prefix, created_by=by, source=source,
        digest=keyed_digest(purpose="link", secret=token),
        expires_at=timezone.now() + timedelta(days=days),
        second_factor_digest=keyed_digest(purpose="factor", secret=_plain(second_factor)) if second_factor else "",
    )
    return link, token


def check_receiver(*, student: Student, guardian: Guardian | None) -> None:
    """Raise ValidationError unless this person may hold a link: a junior's goes to a guardian, an adult's to
    nobody else. Where the birthday is not known, both may."""
    limit = adult_age()
    junior = student.is_junior(adult_age=limit)
    if junior and guardian is None:
        raise ValidationError(
            f"{student.first_name} is under {limit}: the link goes to a guardian. Add one, or choose one."
        )
    if guardian is None:
        return
    if student.born_on is not None and not junior:
        raise ValidationError(f"{student.first_name} is of age: the link goes to {student.first_name} alone.")
    if not guardian.students.filter(pk=student.pk).exists():
        raise ValidationError(f"{guardian.name} is not noted as a guardian of {student.first_name}.")


def still_works(*, link: ShareLink, now: datetime) -> bool:
    """Say whether a link opens the page at this moment.

    Coming of age ends a guardian's link; a birthday that makes the student a junior ends every other link.
    """
    if not link.works_at(now) or link.student.status == Student.Status.LEFT:
        return False
    if link.student.born_on is None:
        return True
    return link.student.is_junior(adult_age=adult_age()) == (link.guardian_id is not None)


def adult_age() -> int:
    """Return the age at which this academy treats a student as an adult. One query."""
    return Academy.objects.values_list("adult_age", flat=True).first() or 18


def find_link(*, token: str) -> ShareLink | None:
    """Return the working link of a token; None for unknown, expired and revoked alike.

    The digests are compared in constant time, and one is computed even where the prefix is unknown.
    """
    prefix = token[:PREFIX_LENGTH]
    # What no link begins with is not asked of the database, which may not even be able to hold it.
    known = prefix.isascii() and prefix.isprintable()
    link = ShareLink.objects.select_related("student", "guardian").filter(prefix=prefix).first() if known else None
    digest = keyed_digest(purpose="link", secret=token)
    matches = hmac.compare_digest(digest, link.digest if link else "0" * 64)
    if link is None or not matches or not still_works(link=link, now=timezone.now()):
        return None
    return link


def second_factor_fits(*, link: ShareLink, answer: str) -> bool:
    """Say whether the answer to the link's extra question is right; a link without one always fits."""
    if not link.second_factor_digest:
        return True
    return hmac.compare_digest(link.second_factor_digest, keyed_digest(purpose="factor", secret=_plain(answer)))


@transaction.atomic
def try_second_factor(*, link: ShareLink, answer: str, now: datetime) -> bool:
    """Say whether the answer to the extra question is right, and count the wrong ones.

    Ten wrong answers within an hour close the question for the rest of that hour, right answers included:
    ValidationError with a sentence. The count lies in the database, so it holds across processes and restarts.
    """
    locked = ShareLink.objects.select_for_update().get(pk=link.pk)
    if locked.wrong_since is None or now - locked.wrong_since >= TRIES_WINDOW:
        locked.wrong_since, locked.wrong_answers = now, 0
    if locked.wrong_answers >= TRIES:
        raise ValidationError("Too many wrong answers. Try again in an hour, or ask your coach.", code="closed")
    if second_factor_fits(link=locked, answer=answer):
        return True
    ShareLink.objects.filter(pk=link.pk).update(
        wrong_since=locked.wrong_since, wrong_answers=locked.wrong_answers + 1
    )
    return False


def note_seen(*, link: ShareLink) -> None:
    """Remember the first and the latest time the page was opened with this link, to the minute: nothing is written
    where it was opened a moment ago."""
    now = timezone.now()
    if link.last_seen_at and timedelta(0) <= now - link.last_seen_at < SEEN_AGAIN:
        return
    link.first_seen_at = link.first_seen_at or now
    link.last_seen_at = now
    link.save(update_fields=["first_seen_at", "last_seen_at"])


def revoke_link(*, link: ShareLink) -> None:
    """End a link at once, in every browser that has exchanged it."""
    if link.revoked_at is None:
        link.revoked_at = timezone.now()
        link.save(update_fields=["revoked_at"])


def issue_entry(*, coach: Coach, minutes: int = 15) -> str:
    """Return the token of a one-time sign-in. For commands on the machine itself, never for a page."""
    token = secrets.token_urlsafe(32)
    EntryLink.objects.create(
        coach=coach, digest=keyed_digest(purpose="entry", secret=token),
        expires_at=timezone.now() + timedelta(minutes=minutes), source="system",
    )
    return token


@transaction.atomic
def use_entry(*, token: str, now: datetime) -> Coach | None:
    """Return the coach of a one-time sign-in and use it up; None where it is unknown, used or late."""
    digest = keyed_digest(purpose="entry", secret=token)
    entry = EntryLink.objects.select_for_update().filter(digest=digest).first()
    if entry is None or entry.used_at is not None or entry.expires_at <= now:
        return None
    entry.used_at = now
    entry.save(update_fields=["used_at"])
    return entry.coach if entry.coach.is_active else None


def _plain(answer: str) -> str:
    return "".join(answer.split()).casefold()


def _unused_prefix() -> str:
    while True:
        prefix = secrets.token_urlsafe(6)[:PREFIX_LENGTH]
        if not ShareLink.objects.filter(prefix=prefix).exists():
            return prefix
