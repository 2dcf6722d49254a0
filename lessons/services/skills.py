"""Short-game tests: begun, typed ball by ball, taken back. Each ball is stored the moment it is entered."""

import random
import uuid
from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction

from academy.journal import journal
from academy.models import Coach, Student
from lessons.models import Battery, Lesson, SkillBall, SkillTest
from metrics.shortgame.designs import DESIGNS, target_at


def begin_test(
    *, by: Coach, student: Student, design: str, conditions: str = "", lesson: Lesson | None = None,
    battery: Battery | None = None,
) -> SkillTest:
    """Begin a run; one of the same design begun today that has no ball yet is taken up instead."""
    test = SkillTest(
        student=student, design=design, conditions=conditions, lesson=lesson, battery=battery,
        seed=random.randrange(2**31),
    )
    with journal(by=by, student=student, lesson_code=lesson and lesson.code,
                 sentence=f"Test begun: {DESIGNS[design].title}") as entry:
        empty = student.skill_tests.filter(
            design=design, removed_at__isnull=True, balls__isnull=True, battery=battery,
            begun_at__date=test.begun_at.date(),
        ).first()
        if empty is not None:
            return empty
        entry.create(test)
    return test


def add_ball(*, by: Coach, test: SkillTest, key: uuid.UUID, number: int, **result: Any) -> tuple[SkillBall, bool]:
    """Store the next ball and return it with whether it is new; the same key sent twice is one ball.

    ``number`` is the ball the page showed: where another is next by now, nothing is stored, and a sentence says so.
    """
    with transaction.atomic():
        SkillTest.objects.select_for_update().only("pk").get(pk=test.pk)
        stored = SkillBall.objects.filter(key=key, test=test).first()
        if stored is not None:
            return stored, False
        expected = next_number(test)
        if number != expected:
            raise ValidationError(
                f"This page showed ball {number}, ball {expected} is next by now; nothing was stored. Look again.")
        station = target_at(design=DESIGNS[test.design], seed=test.seed, number=number)
        ball = SkillBall(test=test, key=key, number=number, target_m=station.metres, **result)
        with _journal(by, test, f"Ball {number} of {DESIGNS[test.design].title}") as entry:
            entry.create(ball)
    return ball, True


def undo_ball(*, by: Coach, test: SkillTest) -> SkillBall | None:
    """Take the newest ball out of view; it stays in the record."""
    with _journal(by, test, f"Last ball of {DESIGNS[test.design].title} taken back") as entry:
        SkillTest.objects.select_for_update().only("pk").get(pk=test.pk)
        last = test.balls.filter(removed_at__isnull=True).last()
        if last is not None:
            entry.remove(last)
    return last


def remove_test(*, by: Coach, test: SkillTest) -> None:
    """Take a run out of view."""
    with _journal(by, test, f"Test taken out: {DESIGNS[test.design].title}") as entry:
        entry.remove(test)


def put_test_back(*, by: Coach, test: SkillTest) -> None:
    """Bring a run back."""
    with _journal(by, test, f"Test put back: {DESIGNS[test.design].title}") as entry:
        entry.update(test, removed_at=None)


def next_number(test: SkillTest) -> int:
    """Return the number of the next ball. One query."""
    return test.balls.filter(removed_at__isnull=True).count() + 1


def _journal(by: Coach, test: SkillTest, sentence: str):
    code = test.lesson.code if test.lesson_id else None
    return journal(by=by, student=test.student, lesson_code=code, sentence=sentence)
