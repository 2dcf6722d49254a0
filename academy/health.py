"""What a student says about pain: stored apart from coaching, with the words that belong to it.

The texts are duty-of-care words in common use, without a source of their own; they are not medical advice, and
local rules and licensed professionals come first. Health entries are read by the assigned coach alone.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from django.core.exceptions import ValidationError
from django.utils import timezone

from .journal import journal
from .models import Academy, Coach, HealthFlag, Student

STOP_AT = 4
NOT_MEDICAL = "Not medical advice; follow local rules and licensed professionals."
RED_FLAGS = (
    "Back pain with weak legs, numbness between the legs, trouble with bladder or bowel, fever, or after a fall. "
    "Or chest pain, fainting, being very short of breath, sudden confusion."
)
_HANDS_AND_ELBOW = {HealthFlag.Area.LEAD_WRIST, HealthFlag.Area.TRAIL_WRIST, HealthFlag.Area.ELBOW}


@dataclass(frozen=True, kw_only=True)
class Advice:
    """One card of duty-of-care text; ``stop`` marks what must be read first."""

    title: str
    text: str
    stop: bool = False


def stops_long_game(*, severity: int, is_new: bool, red_flag: bool = False) -> bool:
    """Pain of 4 or more of 10, new pain, or a red flag ends full swings. Common practice, no source."""
    return severity >= STOP_AT or is_new or red_flag


def advice_for(flags: Iterable[HealthFlag], *, academy: Academy | None) -> list[Advice]:
    """Return the cards for the open health entries: emergency first, then stop, then care of a joint."""
    open_flags = [flag for flag in flags if flag.cleared_at is None]
    cards = []
    if any(flag.red_flag for flag in open_flags):
        cards.append(emergency(academy))
    if any(flag.waits_for_a_word for flag in open_flags):
        cards.append(ASK_FIRST)
    if any(flag.stops_long_game and not flag.waits_for_a_word for flag in open_flags):
        cards.append(STOP)
    if any(flag.area in _HANDS_AND_ELBOW and flag.severity > 0 for flag in open_flags):
        cards.append(HANDS)
    return cards


STOP = Advice(
    title="Stop the full swings", stop=True,
    text="Stop this drill. Putting or aim work is fine, or end here. Full swings, hard mats and long driver blocks "
    "stay off until it is 0 to 2 of 10 on two days running, or a clinician clears you.",
)
ASK_FIRST = Advice(
    title="A clinician’s word first", stop=True,
    text="An answer about your health asks for a word with a doctor or physiotherapist before full swings. Putting, "
    "chipping and aim are fine meanwhile. Tell the coach when they have said yes.",
)
HANDS = Advice(
    title="Wrist, thumb or elbow",
    text="Fewer balls, no hard mats, roots or heavy rough, a softer grip. See a clinician if it lasts more than two "
    "weeks or hurts at night.",
)


def emergency(academy: Academy | None) -> Advice:
    """Return the emergency card with the local number and where the defibrillator is."""
    number = academy.emergency_number if academy else "112"
    place = f" At the academy a defibrillator is here: {academy.defibrillator_place}." if (
        academy and academy.defibrillator_place
    ) else ""
    return Advice(
        title=f"Call {number} now", stop=True,
        text=f"What you ticked needs emergency care now. Stop, do not drive yourself, call {number}.{place}",
    )


def report_pain(
    *, student: Student, by: Coach | None, severity: int, area: str, is_new: bool = False, red_flag: bool = False,
    text: str = "", source: str = "typed",
) -> HealthFlag:
    """Store what was said about pain. The journal's sentence carries no health word."""
    flag = HealthFlag(
        student=student, area=area or HealthFlag.Area.OTHER, severity=severity, is_new=is_new, red_flag=red_flag,
        text=text, reported_at=timezone.now(), source=source,
    )
    with journal(by=by, student=student, sentence="Health entry added") as entry:
        entry.create(flag)
    return flag


def clear_flag(*, by: Coach, flag: HealthFlag, by_clinician: bool) -> HealthFlag:
    """Note that it is over: 0 to 2 of 10 on two days running, or cleared by a clinician.

    A red flag, and an answer that asks for a clinician's word, are cleared by a clinician only.
    """
    if flag.red_flag and not by_clinician:
        raise ValidationError("A red flag is cleared by a clinician only.")
    if flag.waits_for_a_word and not by_clinician:
        raise ValidationError("This waits for a clinician’s word; it is no pain that calm days could end.")
    with journal(by=by, student=flag.student, sentence="Health entry cleared") as entry:
        entry.update(flag, cleared_at=timezone.now(), cleared_by_clinician=by_clinician)
    return flag


def open_flags(*, student: Student) -> list[HealthFlag]:
    """Return the health entries that are not cleared. One query."""
    return list(HealthFlag.objects.filter(student=student, cleared_at__isnull=True))


def note_advice_seen(*, student: Student) -> None:
    """Remember that the open entries' advice was on the student's screen. One query."""
    HealthFlag.objects.filter(student=student, cleared_at__isnull=True, advice_seen=False).update(advice_seen=True)
