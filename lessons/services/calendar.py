"""What calendar programs are told: each change that a reader must notice raises the booking's sequence.

An undo is such a change too. That is why the sequence is no part of the journal: it only goes forward.
"""

import secrets
from collections.abc import Iterable
from datetime import UTC, datetime
from hmac import compare_digest

from django.db import transaction
from django.utils import timezone

from academy.models import Coach
from academy.share import PREFIX_LENGTH, keyed_digest
from lessons.models import Booking, CalendarFeed, Lesson


def publish(lessons: Iterable[Lesson]) -> None:
    """Raise the sequence of each lesson whose hour, length, place or cancellation is not the one last told."""
    for lesson in lessons:
        booking, _ = Booking.objects.get_or_create(lesson=lesson)
        facts = facts_told(lesson, booking)
        if booking.published == facts:
            continue
        booking.sequence += bool(booking.published)
        booking.published, booking.changed_at = facts, timezone.now()
        booking.save(update_fields=["sequence", "published", "changed_at"])


@transaction.atomic
def issue_feed(*, coach: Coach) -> str:
    """Return a new token of the coach's feed, shown once; the one before ends."""
    end_feed(coach=coach)
    token = secrets.token_urlsafe(40)
    CalendarFeed.objects.create(
        coach=coach, prefix=token[:PREFIX_LENGTH], digest=keyed_digest(purpose="feed", secret=token), created_by=coach
    )
    return token


def end_feed(*, coach: Coach) -> None:
    """End the coach's feed; its address answers like a missing page from now on."""
    CalendarFeed.objects.filter(coach=coach, revoked_at=None).update(revoked_at=timezone.now())


def feed_for(*, token: str) -> CalendarFeed | None:
    """Return the working feed of a token, None for unknown and ended alike; digests are compared in constant time."""
    known = token.isascii() and token.isprintable()
    rows = CalendarFeed.objects.select_related("coach").filter(prefix=token[:PREFIX_LENGTH], revoked_at=None)
    feed = rows.first() if known else None
    fits = compare_digest(keyed_digest(purpose="feed", secret=token), feed.digest if feed else "0" * 64)
    if feed is None or not fits or not feed.coach.is_active:
        return None
    CalendarFeed.objects.filter(pk=feed.pk).update(read_at=timezone.now())
    return feed


def facts_told(lesson: Lesson, booking: Booking) -> dict:
    """Return what a calendar program reads of a booking."""
    starts: datetime = lesson.starts_at
    return {
        "starts_at": starts.astimezone(UTC).isoformat(), "minutes": lesson.minutes, "venue": lesson.venue_id,
        "bay": booking.bay, "coach": lesson.coach_id, "cancelled": lesson.status == Lesson.Status.CANCELLED,
    }
