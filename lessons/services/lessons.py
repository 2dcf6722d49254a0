"""The lesson as it goes: book, start, add blocks, answer the greeting, finish."""

import uuid
from datetime import date, datetime
from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction
from django.db.models import Max
from django.utils import timezone

from academy.consents import consent_allows
from academy.journal import journal
from academy.models import Club, Coach, Consent, Intent, Student
from lessons.models import Block, Booking, GroupClass, Lesson

from .calendar import publish
from .once import made_with
from .packages import use_for_lesson
from .standing import refresh_standing

HEADER = ("venue", "device", "ball_type")
"""What a lesson takes over from the student's last one; weather is asked anew."""


class ConsentMissing(ValidationError):
    """A junior's lesson may not start: nobody has allowed it, or no longer."""


@transaction.atomic
def book_lesson(
    *, by: Coach, student: Student, starts_at: datetime, minutes: int = 60, bay: str = "",
    series: uuid.UUID | None = None, group: GroupClass | None = None, **values: Any,
) -> Lesson:
    """Store a planned lesson with its header copied from last time. A code that is booked already is returned;
    ValidationError where it is another student's. ``values`` go to the lesson; what is None is copied all the same.
    """
    Student.objects.select_for_update().only("pk").get(pk=student.pk)
    booked = Lesson.objects.filter(code=values["code"]).first() if "code" in values else None
    if booked is not None:
        if booked.student_id != student.pk:
            raise ValidationError("This form has booked another lesson already. Open Today again and book from there.")
        return booked
    lesson = Lesson(
        student=student, coach=values.pop("coach", student.coach), starts_at=starts_at, minutes=minutes,
        **{**_last_header(student), **{name: value for name, value in values.items() if value is not None}},
    )
    with journal(by=by, student=student, lesson_code=lesson.code, sentence="Lesson booked") as entry:
        entry.create(lesson)
    Booking.objects.create(lesson=lesson, bay=bay, series=series, group=group, created_by=by, source=lesson.source)
    publish([lesson])
    return lesson


@transaction.atomic
def begin_lesson(*, by: Coach, student: Student, minutes: int, code: uuid.UUID) -> Lesson:
    """Book and start a lesson at once; where it may not start nothing is booked."""
    lesson = book_lesson(by=by, student=student, starts_at=timezone.now(), minutes=minutes, code=code)
    return start_lesson(by=by, lesson=lesson)


@transaction.atomic
def start_lesson(*, by: Coach, lesson: Lesson) -> Lesson:
    """Begin a planned lesson and lay out its first block; a running one is returned as it is.

    Refused with the reason where the consent to lessons is missing: a junior's has to be there before the first ball.
    """
    lesson = _locked(lesson)
    if lesson.status in {Lesson.Status.RUNNING, Lesson.Status.FINISHED}:
        return lesson
    if lesson.status != Lesson.Status.PLANNED:
        raise ValidationError(f"This lesson is marked “{lesson.get_status_display()}” and cannot be started.")
    allowed = consent_allows(student=lesson.student, item=Consent.Item.LESSONS, day=timezone.localdate())
    if not allowed.allowed:
        raise ConsentMissing(f"{allowed.reason} Once it is noted under Consents, the lesson can start at once.")
    with journal(
        by=by, student=lesson.student, lesson_code=lesson.code, sentence="Lesson started"
    ) as entry:
        entry.update(lesson, status=Lesson.Status.RUNNING, started_at=timezone.now())
        entry.create(first_block(lesson))
    return lesson


def first_block(lesson: Lesson) -> Block:
    """Return the block to begin with: at a return visit ten balls with the club in work, no aids, no advice.

    At a first visit the balls are the ones that every later first ten is compared with, so they too are hit without
    the student seeing numbers: like with like.
    """
    last = (
        Block.objects.filter(
            lesson__student=lesson.student, lesson__status=Lesson.Status.FINISHED, removed_at__isnull=True
        ).select_related("club").order_by("-lesson__starts_at", "position").first()
    )
    reading = Block.Reading.NUMBERS if lesson.device_id else Block.Reading.CALLS
    if last is None:
        return Block(
            lesson=lesson, position=1, club_name="7 iron", category="mid_iron",
            intent=intent_for(student=lesson.student, category="mid_iron"),
            purpose=Block.Purpose.EXPLORE, feedback_shown=False, reading=reading,
        )
    return Block(
        lesson=lesson, position=1, club=_current(last.club), club_name=last.club_name, category=last.category,
        intent=intent_for(student=lesson.student, category=last.category), aids=[],
        purpose=Block.Purpose.FIRST_TEN, feedback_shown=False, reading=reading, is_tee=last.is_tee,
        wanted_balls=10,
    )


@transaction.atomic
def add_block(
    *, by: Coach, lesson: Lesson, copy_of: Block | None = None, key: uuid.UUID | None = None, **values: Any
) -> Block:
    """Add a block; with ``copy_of`` every condition that is not named stays the same. One key opens one block;
    ValidationError where it has made another lesson's."""
    _locked(lesson)
    opened = made_with(key, rows=Block.objects.all(), lesson_id=lesson.pk)
    if opened is not None:
        return opened
    base: dict[str, Any] = {}
    if copy_of is not None:
        kept = ("club", "club_name", "category", "intent", "aids", "effort_pct", "feedback_shown", "is_mixed",
                "reading", "is_tee", "wanted_balls", "purpose")
        base = {name: getattr(copy_of, name) for name in kept}
    whole = {**base, **values}
    if "purpose" not in values and copy_of is not None:
        whole["purpose"] = _purpose_after(copy_of, aids=whole.get("aids") or [], changed=_has_change(lesson))
    top = Block.objects.filter(lesson=lesson).aggregate(top=Max("position"))["top"] or 0
    block = Block(lesson=lesson, position=top + 1, **({"code": key} if key else {}), **whole)
    with journal(
        by=by, student=lesson.student, lesson_code=lesson.code, sentence=f"Block {block.position} opened: {block}"
    ) as entry:
        entry.create(block)
    return block


def change_block(*, by: Coach, block: Block, **values: Any) -> Block:
    """Correct a block's conditions."""
    with journal(
        by=by, student=block.lesson.student, lesson_code=block.lesson.code,
        sentence=f"Conditions of block {block.position} corrected",
    ) as entry:
        entry.update(block, **values)
    return block


def change_lesson(*, by: Coach, lesson: Lesson, sentence: str, **values: Any) -> Lesson:
    """Store new values of the lesson itself."""
    with journal(by=by, student=lesson.student, lesson_code=lesson.code, sentence=sentence) as entry:
        entry.update(lesson, **values)
    return lesson


def mark_stop(*, by: Coach, lesson: Lesson, slug: str, title: str, done: bool) -> Lesson:
    """Tick a stop of the running order off, or take the tick back."""
    others = [stop for stop in lesson.done_stops if stop != slug]
    sentence = f"{title}: {'done' if done else 'not done after all'}"
    return change_lesson(
        by=by, lesson=lesson, sentence=sentence, done_stops=[*others, slug] if done else others
    )


def finish_lesson(*, by: Coach, lesson: Lesson, next_date: date | None, next_measure: str) -> Lesson:
    """Close the lesson with what was agreed; it uses one of the student's package. Corrections stay possible."""
    with journal(
        by=by, student=lesson.student, lesson_code=lesson.code, sentence="Lesson finished"
    ) as entry:
        entry.update(
            lesson, status=Lesson.Status.FINISHED, finished_at=lesson.finished_at or timezone.now(),
            next_date=next_date, next_measure=next_measure,
        )
        use_for_lesson(entry=entry, lesson=lesson)
    refresh_standing(student=lesson.student)
    return lesson


def intent_for(*, student: Student, category: str) -> str:
    """Return the flight the student wants with this kind of club; straight until it was asked."""
    shape = Intent.objects.filter(student=student, category=category).values_list("shape", flat=True).first()
    return shape or Intent.Shape.STRAIGHT


def _locked(lesson: Lesson) -> Lesson:
    """Take turns on a lesson, so that a double click starts it once, and return it as it is now."""
    fresh = Lesson.objects.select_for_update(of=("self",)).select_related("student", "venue", "device")
    return fresh.get(pk=lesson.pk)


def _current(club: Club | None) -> Club | None:
    """Return the club if it is still in the bag."""
    return club if club is not None and (club.to_date is None or club.to_date >= timezone.localdate()) else None


def _last_header(student: Student) -> dict[str, Any]:
    last = Lesson.objects.filter(student=student).exclude(
        status__in=[Lesson.Status.CANCELLED, Lesson.Status.NO_SHOW]
    ).select_related("venue", "device").first()
    if last is None:
        return {}
    return {**{name: getattr(last, name) for name in HEADER}, "first_measure": last.next_measure,
            "goal": last.goal}


def _purpose_after(block: Block, *, aids: list[str], changed: bool) -> str:
    """Say what a block is for from its aids: the first ten are over once a second block is opened, and looking
    around is over once the change is chosen."""
    if aids:
        return Block.Purpose.WITH_AID
    keep = {Block.Purpose.TRANSFER, Block.Purpose.TEST} | (set() if changed else {Block.Purpose.EXPLORE})
    return block.purpose if block.purpose in keep else Block.Purpose.NO_AID


def shown_after(block: Block) -> bool:
    """Say whether the student sees numbers in the next block: the silence belongs to the first look alone."""
    return block.feedback_shown or block.purpose in {Block.Purpose.FIRST_TEN, Block.Purpose.EXPLORE}


def _has_change(lesson: Lesson) -> bool:
    return lesson.prescriptions.filter(removed_at__isnull=True).exists()
