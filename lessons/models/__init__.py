"""What happens in and between lessons. Every row reaches its student by one path."""

from .attachment import Attachment
from .batch import DataSource, ImportBatch
from .battery import Battery
from .block import Block
from .course_shot import CourseShot
from .diary import Booking, CalendarFeed, GroupClass, Waiting, WorkingHours
from .drill import DrillAssignment, PracticeEntry
from .finding import Finding, Prescription
from .followup import FollowUp, StudentMessage
from .lesson import Lesson
from .library import LibraryEntry, Override
from .live import LiveBall, WatchedFile
from .office import CoachCheck, Incident, MessageText, QueueMark
from .package import Package, PackageEntry
from .plan import Plan, PlanTemplate, StudentEvent
from .practice_days import PracticeDays
from .prepared import Prepared
from .round import Round
from .setup import SetupObservation
from .setup_series import SetupLook, SetupSeries
from .shot import Shot
from .skill import SkillBall, SkillTest
from .standing import Standing

__all__ = [
    "Attachment",
    "Battery",
    "Block",
    "CourseShot",
    "Booking",
    "CalendarFeed",
    "CoachCheck",
    "DataSource",
    "DrillAssignment",
    "Finding",
    "FollowUp",
    "GroupClass",
    "ImportBatch",
    "Incident",
    "Lesson",
    "LibraryEntry",
    "LiveBall",
    "MessageText",
    "Override",
    "Package",
    "PackageEntry",
    "Plan",
    "PlanTemplate",
    "PracticeDays",
    "PracticeEntry",
    "Prepared",
    "Prescription",
    "QueueMark",
    "Round",
    "SetupLook",
    "SetupObservation",
    "SetupSeries",
    "Shot",
    "SkillBall",
    "SkillTest",
    "Standing",
    "StudentEvent",
    "StudentMessage",
    "Waiting",
    "WatchedFile",
    "WorkingHours",
]
