"""How long somebody stays signed in, on which devices, and ending that.

Two limits, both settings: without a request for so many hours, and after so many days in any case. They are read
from the session itself, so that a page costs no query more.
"""

from datetime import datetime, timedelta

from django.conf import settings
from django.contrib.sessions.backends.base import SessionBase
from django.http import HttpRequest
from django.utils import timezone

from .models import Coach, Session
from .sessions import BEGAN, DEVICE, SEEN

NOTED_EVERY = timedelta(minutes=10)
"""A request within this time of the last note writes nothing."""
SYSTEMS = {"iPhone": "iPhone", "iPad": "iPad", "Android": "Android", "Windows": "Windows", "Mac OS": "Mac",
           "CrOS": "Chromebook", "Linux": "Linux"}
BROWSERS = {"Edg": "Edge", "OPR": "Opera", "Firefox": "Firefox", "Chrome": "Chrome", "Safari": "Safari"}


def begin(*, request: HttpRequest, now: datetime) -> None:
    """Note when and on what this stay began. The session's length is the usual one from now on, also on a device
    that had a student's page open for months."""
    request.session.set_expiry(None)
    request.session[BEGAN] = request.session[SEEN] = now.isoformat()
    request.session[DEVICE] = device_words(request.META.get("HTTP_USER_AGENT", ""))


def is_over(*, session: SessionBase, now: datetime) -> bool:
    """Say whether a limit has passed; notes the visit otherwise. A session from before the limits begins now."""
    began, seen = session.get(BEGAN), session.get(SEEN)
    if began is None or seen is None:
        session[BEGAN] = session[SEEN] = now.isoformat()
        return False
    idle = now - datetime.fromisoformat(seen)
    if idle > timedelta(hours=settings.IDLE_HOURS):
        return True
    if now - datetime.fromisoformat(began) > timedelta(days=settings.SIGNED_IN_DAYS):
        return True
    if abs(idle) > NOTED_EVERY:
        session[SEEN] = now.isoformat()
    return False


def device_words(agent: str) -> str:
    """Say what a browser calls itself, in two words a person recognises."""
    system = next((word for sign, word in SYSTEMS.items() if sign in agent), "unknown device")
    browser = next((word for sign, word in BROWSERS.items() if sign in agent), "a browser")
    return f"{browser} on {system}"


def devices_of(coach: Coach) -> list[Session]:
    """Return where this person is signed in, latest first. One query."""
    rows = Session.objects.filter(coach=coach, expire_date__gt=timezone.now())
    return sorted(rows, key=lambda row: row.seen_at or row.expire_date, reverse=True)


def end_device(*, coach: Coach, code: str) -> bool:
    """Sign one device of this person out at once; False where it is not theirs or not there."""
    found = [row for row in devices_of(coach) if row.code == code]
    return bool(found) and bool(Session.objects.filter(pk__in=[row.pk for row in found]).delete()[0])


def end_others(*, coach: Coach, but: str | None) -> int:
    """Sign every device of this person out but the one with this session key; return how many."""
    return Session.objects.filter(coach=coach).exclude(session_key=but or "").delete()[0]
