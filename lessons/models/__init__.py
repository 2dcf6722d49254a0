"""What happens in and between lessons. Every row reaches its student by one path."""

from .batch import DataSource, ImportBatch
from .block import Block
from .drill import DrillAssignment, PracticeEntry
from .finding import Finding, Prescription
from .followup import FollowUp, StudentMessage
from .lesson import Lesson
from .library import LibraryEntry, Override
from .live import LiveBall, WatchedFile
from .package import Package, PackageEntry
from .round import Round
from .setup import SetupObservation
from .shot import Shot
from .standing import Standing

__all__ = [
    "Block",
    "DataSource",
    "DrillAssignment",
    "Finding",
    "FollowUp",
    "ImportBatch",
    "Lesson",
    "LibraryEntry",
    "LiveBall",
    "Override",
    "Package",
    "PackageEntry",
    "PracticeEntry",
    "Prescription",
    "Round",
    "SetupObservation",
    "Shot",
    "Standing",
    "StudentMessage",
    "WatchedFile",
]
