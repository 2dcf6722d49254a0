"""The test battery is kept here: what was asked, looked at and measured, over one visit or two."""

import uuid
from datetime import date
from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone

from academy.journal import Entry, journal
from academy.models import Coach, HealthFlag, Student
from lessons.models import Battery, Block, Lesson, SkillTest
from metrics.plans.battery import CLEARED, Measure, concerns

from .lessons import add_block, intent_for
from .skills import begin_test

_AREAS = {"heart": "heart", "chest": "heart", "faint": "dizziness", "dizziness": "dizziness",
          "balance_medicine": "dizziness", "pregnancy": "pregnancy"}
"""Question about the body -> the area its entry is kept under; the others go under "other"."""


def begin_battery(*, by: Coach, student: Student, day: date) -> Battery:
    """Begin a battery; one that is not finished yet is gone on with instead."""
    with journal(by=by, student=student, sentence="Test battery begun") as entry:
        Student.objects.select_for_update().only("pk").get(pk=student.pk)
        running = student.batteries.filter(finished_on__isnull=True, removed_at__isnull=True).last()
        if running is not None:
            return running
        battery = Battery(student=student, begun_on=day)
        entry.create(battery)
    return battery


def keep_asked(*, by: Coach, battery: Battery, asked: dict[str, str]) -> None:
    """Store the answers of the conversation."""
    with journal(by=by, student=battery.student, sentence="Battery: answers noted") as entry:
        entry.update(battery, asked=asked)


def keep_body(*, by: Coach, battery: Battery, answers: dict[str, str], pain: dict[str, Any] | None) -> None:
    """Store the answers about the body; the history carries no health word.

    A yes that no clinician has answered yet keeps full swings off until one has, here or under Health. ``pain``
    (area, severity, is_new) becomes an entry of its own.
    """
    with journal(by=by, student=battery.student, sentence="Battery: asked how the body is") as entry:
        _ask_a_clinician(entry, battery, answers)
        _note_pain(entry, battery, pain)
        entry.update(battery, health=answers)


def keep_looks(*, by: Coach, battery: Battery, looked: dict[str, str], pain: dict[str, Any] | None) -> None:
    """Store what was looked at; a look that hurt comes with its pain."""
    with journal(by=by, student=battery.student, sentence="Battery: looks noted") as entry:
        _note_pain(entry, battery, pain)
        entry.update(battery, looked=looked)


@transaction.atomic
def begin_measure(*, by: Coach, battery: Battery, measure: Measure) -> Block | SkillTest:
    """Open the block or the short test of a measure in the lesson that runs; one that is open is gone on with.

    A second running lesson is the battery's second visit. Refused with the reason where full balls need a lesson,
    where health keeps full swings off, or at a third visit.
    """
    Student.objects.select_for_update().only("pk").get(pk=battery.student_id)
    if measure.full_swing and any(flag.stops_long_game for flag in _open(battery.student)):
        raise ValidationError("Health comes first: full swings are off until the open entry is cleared.")
    lesson = battery.student.lessons.filter(status=Lesson.Status.RUNNING).order_by("-starts_at").first()
    if lesson is None and measure.category:
        raise ValidationError(f"{measure.title} are logged in a lesson: start the lesson first.")
    if lesson is not None:
        _take_visit(by, battery, lesson)
    if measure.design:
        return begin_test(by=by, student=battery.student, design=measure.design, lesson=lesson, battery=battery)
    opened = lesson.blocks.filter(
        category=measure.category, purpose=Block.Purpose.TEST, removed_at__isnull=True).last()
    return opened or add_block(
        by=by, lesson=lesson, club_name=measure.club, category=measure.category, purpose=Block.Purpose.TEST, aids=[],
        intent=intent_for(student=battery.student, category=measure.category), wanted_balls=measure.balls,
        feedback_shown=False, is_tee=measure.category == "driver",
        reading=Block.Reading.NUMBERS if lesson.device_id else Block.Reading.CALLS)


def finish_battery(*, by: Coach, battery: Battery, day: date | None) -> None:
    """Finish a battery, so that its time until the next one begins; without a day it is open again."""
    said = "Test battery finished" if day else "Test battery opened again"
    with journal(by=by, student=battery.student, sentence=said) as entry:
        entry.update(battery, finished_on=day)


def remove_battery(*, by: Coach, battery: Battery) -> None:
    """Take a battery out of view; its balls stay."""
    with journal(by=by, student=battery.student, sentence="Test battery taken out") as entry:
        entry.remove(battery)


def put_battery_back(*, by: Coach, battery: Battery) -> None:
    """Bring a battery back."""
    with journal(by=by, student=battery.student, sentence="Test battery put back") as entry:
        entry.update(battery, removed_at=None)


def _take_visit(by: Coach, battery: Battery, lesson: Lesson) -> None:
    if lesson.pk in (battery.lesson_id, battery.second_lesson_id):
        return
    if battery.lesson_id and battery.second_lesson_id:
        raise ValidationError("A battery runs over two visits at most: finish this one and begin another.")
    place, said = "second_lesson" if battery.lesson_id else "lesson", "Test battery in this visit"
    with journal(by=by, student=battery.student, lesson_code=lesson.code, sentence=said) as entry:
        entry.update(battery, **{place: lesson})


def _open(student: Student) -> list[HealthFlag]:
    return list(HealthFlag.objects.filter(student=student, cleared_at__isnull=True))


def _ask_a_clinician(entry: Entry, battery: Battery, answers: dict[str, str]) -> None:
    """Shut full swings at the first yes of a battery, and open them again where a clinician has said yes to them."""
    waiting = [flag for flag in _open(battery.student) if flag.waits_for_a_word]
    asks = concerns(answers)
    if asks and not waiting and not concerns(battery.health):
        entry.create(HealthFlag(
            student=battery.student, area=_AREAS.get(asks[0], "other"), severity=0, is_new=True,
            text="Asked in the test battery", reported_at=timezone.now()))
    if answers.get(CLEARED.key) == "yes":
        for flag in waiting:
            entry.update(flag, cleared_at=timezone.now(), cleared_by_clinician=True)


def _note_pain(entry: Entry, battery: Battery, pain: dict[str, Any] | None) -> None:
    """Store a pain, once for each key of a form. It is never refused or lost because of that key."""
    if pain is None or battery.student.health_flags.filter(code=pain["code"]).exists():
        return
    if HealthFlag.objects.filter(code=pain["code"]).exists():
        pain = {**pain, "code": uuid.uuid4()}
    entry.create(HealthFlag(student=battery.student, reported_at=timezone.now(), **pain))

