"""Rows are gathered and written together: a table at a time, parents first. Codes come from the seed."""

import random
import uuid
from collections import defaultdict
from datetime import datetime
from typing import Any

from django.db.models import Model

from academy.models import (
    Club,
    Concern,
    Consent,
    Goal,
    Guardian,
    Guardianship,
    HealthFlag,
    Intent,
    Recorded,
    ShareLink,
    Student,
)
from lessons.models import (
    Block,
    Booking,
    CourseShot,
    DrillAssignment,
    Finding,
    FollowUp,
    GroupClass,
    Incident,
    Lesson,
    Package,
    PackageEntry,
    PracticeEntry,
    Prescription,
    QueueMark,
    Round,
    SetupObservation,
    SkillBall,
    SkillTest,
    StudentEvent,
    StudentMessage,
    Waiting,
)

ORDER: tuple[type[Model], ...] = (
    Student, Guardian, Guardianship, Consent, Club, Intent, Goal, HealthFlag, ShareLink, Concern, GroupClass, Lesson,
    Booking, Block, SetupObservation, Finding, Prescription, DrillAssignment, PracticeEntry, FollowUp, StudentMessage,
    CourseShot, Package, PackageEntry, QueueMark, Incident, Round, SkillTest, SkillBall, StudentEvent, Waiting,
)


class Rows:
    """What was made and is not written yet. ``random`` is set anew for each person, so that people do not depend on
    each other."""

    def __init__(self) -> None:
        self.random = random.Random(0)
        self.waiting: dict[type[Model], list[Model]] = defaultdict(list)

    def key(self) -> uuid.UUID:
        """Return the next code."""
        return uuid.UUID(int=self.random.getrandbits(128), version=4)

    def add(self, model: type[Model], *, at: datetime | None = None, **values: Any) -> Any:
        """Make a row and return it; ``at`` is when it was written, by the story told."""
        if issubclass(model, Recorded):
            values = {"source": "demo", "code": self.key(), **values}
        if at is not None:
            values["created_at"] = at
        row = model(**values)
        self.waiting[model].append(row)
        return row

    def store(self) -> None:
        """Write everything that waits."""
        unknown = set(self.waiting) - set(ORDER)
        if unknown:
            raise ValueError(f"No place in the order of writing for {', '.join(sorted(m.__name__ for m in unknown))}.")
        for model in ORDER:
            model.objects.bulk_create(self.waiting.pop(model, []), batch_size=500)
