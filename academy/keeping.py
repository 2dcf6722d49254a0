"""What is kept, why and for how long; and the job that ends it. The lengths are settings of the academy.

Other rooms add their own lines with ``register``. Zero days means: never by itself.
"""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.conf import settings
from django.utils import timezone

from .models import Academy, Change, EntryLink, HealthFlag, PainReading, Reading, Session, ShareLink, Student

SETTING = "keep_days"
"""Key in the academy's house rules: line -> days."""


@dataclass(frozen=True, kw_only=True)
class Line:
    """One kind of data: what, why, for how long by default, and how it ends."""

    key: str
    what: str
    why: str
    days: int
    end: Callable[[datetime], int]
    """Ends what is older than a moment; returns how much."""


LINES: dict[str, Line] = {}


def register(line: Line) -> None:
    """Add a line; a second one of the same key is a mistake of the program."""
    if line.key in LINES:
        raise ValueError(f"“{line.key}” is registered twice.")
    LINES[line.key] = line


def days_kept(key: str) -> int:
    """Return the academy's own number of days for a line, else the default. One query."""
    return _own().get(key, LINES[key].days)


def table() -> list[tuple[Line, int]]:
    """Return every line with the days that count. One query."""
    own = _own()
    return [(line, own.get(line.key, line.days)) for line in LINES.values()]


def set_days(*, days: dict[str, int]) -> None:
    """Store the academy's own numbers of days; unknown lines are refused with a KeyError."""
    academy = Academy.objects.get()
    academy.house_rules = {**academy.house_rules, SETTING: {key: days[key] for key in days if LINES[key]}}
    academy.save(update_fields=["house_rules"])


def run(*, now: datetime) -> dict[str, int]:
    """End what is due; return line -> how much. A clock that was set back ends nothing too early: only ages count."""
    return {line.key: line.end(now - timedelta(days=days)) for line, days in table() if days}


def _own() -> dict[str, int]:
    rules = Academy.objects.values_list("house_rules", flat=True).first() or {}
    return {key: int(days) for key, days in rules.get(SETTING, {}).items() if key in LINES}


def _left(moment: datetime) -> int:
    """Erase who left the academy and whose record nobody has touched since."""
    from .erasure import CannotErase, erase

    ended = 0
    left = Student.objects.filter(status=Student.Status.LEFT, created_at__lt=moment)
    touched = Change.objects.filter(created_at__gte=moment, student__isnull=False).values("student")
    for student in left.exclude(pk__in=touched):
        try:
            erase(student=student, by=None)
            ended += 1
        except CannotErase:
            continue
    return ended


def _files(pattern: str, folder: str) -> Callable[[datetime], int]:
    def end(moment: datetime) -> int:
        every = (settings.DATA_DIR / folder).glob(pattern)
        old = [path for path in every if path.stat().st_mtime < moment.timestamp()]
        for path in old:
            path.unlink(missing_ok=True)
        return len(old)

    return end


def _tries(moment: datetime) -> int:
    from axes.models import AccessAttempt

    return AccessAttempt.objects.filter(attempt_time__lt=moment).delete()[0]


def _sessions(moment: datetime) -> int:
    return Session.objects.filter(expire_date__lt=min(moment, timezone.now())).delete()[0]


for _line in (
    Line(key="left", what="The whole record of a student who has left",
         why="They may come back, and accounts have to be kept", days=6 * 365, end=_left),
    Line(key="health", what="Health entries that were cleared", why="Care in the lessons after it", days=2 * 365,
         end=lambda moment: HealthFlag.objects.filter(cleared_at__lt=moment).delete()[0]
         + PainReading.objects.filter(said_on__lt=moment.date()).delete()[0]),
    Line(key="history", what="The history of changes", why="So that a mistake can be undone, and be traced",
         days=2 * 365, end=lambda moment: Change.objects.filter(created_at__lt=moment).delete()[0]),
    Line(key="links", what="Private links that have ended", why="To answer who could see what", days=365,
         end=lambda moment: ShareLink.objects.filter(expires_at__lt=moment).delete()[0]),
    Line(key="readings", what="Who read juniors’ records and health data, and took exports along",
         why="To answer a parent, and to find misuse", days=3 * 365,
         end=lambda moment: Reading.objects.filter(day__lt=moment.date()).delete()[0]),
    Line(key="tries", what="Sign-in tries that failed: name, address, browser", why="The throttle counts them",
         days=30, end=_tries),
    Line(key="sessions", what="Sessions that are over", why="None; they are tidied away", days=1, end=_sessions),
    Line(key="entries", what="One-time sign-ins", why="None; they are over after minutes", days=1,
         end=lambda moment: EntryLink.objects.filter(expires_at__lt=moment).delete()[0]),
    Line(key="mails", what="Mails in the outbox folder", why="Where no mail server is set, they wait there",
         days=60, end=_files("*.log", "outbox")),
    Line(key="backups", what="Backups made before an update", why="A way back after an update", days=90,
         end=_files("holdfast-*-before-update.zip", "backups")),
):
    register(_line)
