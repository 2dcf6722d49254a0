"""What a lesson's reader may know of the student's health.

The assigned coach reads what the student said. A coach who gives a single lesson of somebody else's student reads
only what they noted themselves, and that the long game is off: enough to keep the student safe, and not why.
``lessons.access`` says who reads; where nobody was named, nothing is told.
"""

from dataclasses import replace

from academy.models import HealthFlag
from metrics.rules.assessment import Assessment, Gate
from metrics.rules.health import body_notes
from metrics.rules.records import Library
from metrics.rules.types import BlockEvidence

from .models import Lesson

OFF_TITLE = "No long game today"
OFF = "Putting and aim work are fine. The student’s own coach knows why, and says when it is over."


def reads_health(lesson: Lesson) -> bool:
    """Say whether the reader is the student's assigned coach."""
    return lesson.reader is not None and lesson.reader.pk == lesson.student.coach_id


def flags_seen(lesson: Lesson) -> list[HealthFlag]:
    """Return the open health entries that the reader may read. One query a page."""
    if lesson.reader is None:
        return []
    return [flag for flag in _open_flags(lesson) if reads_health(lesson) or flag.created_by_id == lesson.reader.pk]


def long_game_off(lesson: Lesson) -> bool:
    """Say whether an open health entry, seen by the reader or not, keeps full swings off. One query a page."""
    return any(flag.stops_long_game for flag in _open_flags(lesson))


def _open_flags(lesson: Lesson) -> list[HealthFlag]:
    """Read what is open, once for a lesson as it was loaded."""
    if "read_flags" not in lesson.__dict__:
        lesson.read_flags = list(HealthFlag.objects.filter(student=lesson.student_id, cleared_at__isnull=True))
    return lesson.read_flags


def without_health(found: Assessment, *, evidence: BlockEvidence, library: Library) -> Assessment:
    """Return a reading that says no more of health than that the long game is off."""
    told = set(body_notes(evidence, library=library))
    gate = found.gate and Gate(key="pain", text=OFF, offers=library.safety["pain"].offers)
    return replace(found, gate=gate, notes=tuple(words for words in found.notes if words not in told))
