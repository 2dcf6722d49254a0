"""What pain leaves open: the one answer for practice mode, the private page and the coach's plan.

Pain of 4 or more, new pain or an emergency sign takes full swings away until two calm days running or a clinician
(academy.pain_days). Aim, setup and putting stay open, unless the sore place speaks against that very drill, or an
emergency sign was ticked: then everything stays shut until a clinician has cleared it.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from academy.models import HealthFlag, Student
from lessons.library import stored_library
from metrics.rules.records import Drill

GROWING = range(7, 15)
"""Ages at which speed work rests: bodies grow fast and timing goes astray for a while (common practice)."""


@dataclass(frozen=True, kw_only=True)
class PainRule:
    """What is off today. ``areas`` are the places that a drill must not load."""

    long_game_off: bool
    all_off: bool
    areas: frozenset[str]

    def allows(self, drill: Drill | None) -> bool:
        """Say whether a drill may be practised; one that the library does not know counts as a full swing."""
        if self.all_off:
            return False
        if drill is None:
            return not self.long_game_off
        return not self.areas & set(drill.areas) and (drill.gentle or not self.long_game_off)


def pain_rule(*, student: Student, day: date) -> PainRule:
    """Return what is off for a student on a day. One query."""
    return rule_of(HealthFlag.objects.filter(student=student, cleared_at__isnull=True), age=student.age_on(day))


def rule_of(flags: Iterable[HealthFlag], *, age: int | None = None) -> PainRule:
    """Return what open health entries, and the age, leave open. No query of its own."""
    flags = list(flags)
    sore = {flag.area for flag in flags if flag.severity > 0}
    return PainRule(
        long_game_off=any(flag.stops_long_game for flag in flags), all_off=any(flag.red_flag for flag in flags),
        areas=frozenset(sore | ({"growing"} if age in GROWING else set())),
    )


def known_drill(slug: str) -> Drill | None:
    """Return a drill of the library as it stands today, None where it is no longer there. One query."""
    return stored_library().drills.get(slug)
