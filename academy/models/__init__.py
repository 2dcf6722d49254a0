"""The people and what is kept about them."""

from .academy import Academy, Venue
from .base import Recorded
from .club import Club, Intent
from .coach import Coach, EntryLink
from .consent import Consent, Guardian, Guardianship
from .goal import Goal
from .health import HealthFlag
from .journal import Change
from .link import ShareLink
from .student import Student

__all__ = [
    "Academy",
    "Change",
    "Club",
    "Coach",
    "Consent",
    "EntryLink",
    "Goal",
    "Guardian",
    "Guardianship",
    "HealthFlag",
    "Intent",
    "Recorded",
    "ShareLink",
    "Student",
    "Venue",
]
