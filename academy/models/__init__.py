"""The people and what is kept about them."""

from .academy import Academy, Venue
from .base import Recorded
from .club import Club, Intent
from .coach import Coach, EntryLink
from .concern import Concern
from .consent import Consent, Guardian, Guardianship
from .erased import Erasure, Reading
from .goal import Goal
from .health import HealthFlag
from .journal import Change
from .link import ShareLink
from .pain_reading import PainReading
from .second_factor import RecoveryCode, SecondFactor
from .session import Session
from .student import Student

__all__ = [
    "Academy",
    "Change",
    "Club",
    "Coach",
    "Concern",
    "Consent",
    "EntryLink",
    "Erasure",
    "Goal",
    "Guardian",
    "Guardianship",
    "HealthFlag",
    "Intent",
    "PainReading",
    "Reading",
    "Recorded",
    "RecoveryCode",
    "SecondFactor",
    "Session",
    "ShareLink",
    "Student",
    "Venue",
]
