"""The academy's numbers without its people: blocks of balls of grown students who agreed, for handing on.

What is in it, in whole: for each block of a visit its club, purpose, whether aids were used, roughly how many balls,
and means and spreads on a coarse grid; for each student hand, age and index in bands, as far as a crowd shares them.
No names, codes, dates, places, words or health. ``CANNOT`` says what nobody can promise.
"""

import random
import secrets
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.db.models import Q

from academy.models import Consent, Student
from lessons.models import Block, Lesson
from metrics.fields import FIELDS

from .crowd import Member, in_crowds, told_by_enough

LEAST, USUAL = 5, 10
"""People alike. Five is the lower end of what statistical offices use for tables, ten is safer; common practice."""
FEWEST_BALLS = 5
GRID = {"speed": 1.0, "angle": 0.5, "rotation": 250.0, "distance": 5.0, "small_length": 5.0, "low_point": 1.0,
        "time": 0.5, "ratio": 0.05}
"""Dimension -> step to which a mean or spread is rounded, in stored units: too coarse to be found again in a file."""
CANNOT = (
    "Somebody who knows much of one student, such as every club and purpose of every visit in order, may still tell "
    "which row could be theirs.",
    "What all of a crowd share is told of each of them: if ten alike all slice, each of the ten does.",
    "Two files made at different times can be laid beside each other; hand out one, not a series.",
    "The academy itself can be guessed by whoever gave the file on. It is for people you know, not for the web.",
)
JUNIOR, NO_YES, NO_NUMBERS, RARE = (
    "under age", "did not agree to statistics", "no finished visit with enough balls", "too rare to be told",
)
"""Why somebody is left out."""


class TooFew(ValueError):
    """There are not enough people for anybody to disappear among; the text says how many are needed."""


@dataclass(frozen=True, kw_only=True)
class Row:
    """One block as told. ``person`` counts from 1 in an order drawn anew for each file."""

    person: int
    visit: int
    club: str
    purpose: str
    aids: bool
    balls: str
    numbers: dict[str, dict[str, float]]


@dataclass(frozen=True, kw_only=True)
class Anonymous:
    """What may be handed on, and who was left out for which reason (reason -> how many, for the owner's page only)."""

    least: int
    people: list[dict[str, Any]]
    rows: list[Row]
    aside: dict[str, int]


def anonymous(*, day: date, adult_age: int, least: int = USUAL, rng: random.Random | None = None) -> Anonymous:
    """Return the academy without its people. Three queries, and one for each 200 blocks.

    ``least`` is how many must look alike, never below five. Raises TooFew where there are fewer people than that.
    """
    least = max(LEAST, least)
    students, aside = _who(day, adult_age)
    visits = _visits(students)
    members = [
        Member(pk=one.pk, traits=(one.hand, _age(one, day), _index(one)), visits=len(visits[one.pk]))
        for one in students if visits.get(one.pk)
    ]
    told = in_crowds(members, least=least)
    if not told:
        raise TooFew(f"{len(members)} grown students agreed to statistics and have numbers. {least} who look alike "
                     "are needed before anything can be told of anybody.")
    (rng or secrets.SystemRandom()).shuffle(told)
    aside = aside | {NO_NUMBERS: len(students) - len(members), RARE: len(members) - len(told)}
    aside = {reason: count for reason, count in aside.items() if count}
    people = [
        {"person": number, "hand": one.traits[0], "age": one.traits[1], "index": one.traits[2], "visits": one.visits}
        for number, one in enumerate(told, 1)
    ]
    found = [
        (number, place, block)
        for number, one in enumerate(told, 1)
        for place, blocks in enumerate(visits[one.pk][: one.visits], 1) for block in blocks
    ]
    return Anonymous(least=least, people=people, rows=_rows(found, least), aside=aside)


def _who(day: date, adult_age: int) -> tuple[list[Student], dict[str, int]]:
    """Return the grown students whose consent to statistics holds on a day, and how many were left out for what."""
    given = Consent.objects.filter(item=Consent.Item.STATISTICS, given_on__lte=day, expires_on__gte=day)
    agreed = set(given.filter(Q(withdrawn_on=None) | Q(withdrawn_on__gt=day)).values_list("student", flat=True))
    every = list(Student.objects.order_by("pk"))
    grown = [one for one in every if (age := one.age_on(day)) is None or age >= adult_age]
    students = [one for one in grown if one.pk in agreed]
    return students, {JUNIOR: len(every) - len(grown), NO_YES: len(grown) - len(students)}


def _visits(students: Iterable[Student]) -> dict[int, list[list[Block]]]:
    """Return student -> visits in order -> blocks with enough balls; visits without such a block do not count."""
    rows = Block.objects.filter(
        lesson__student__in=[one.pk for one in students], lesson__status=Lesson.Status.FINISHED, removed_at=None
    ).select_related("lesson").order_by("lesson__starts_at", "lesson_id", "position", "pk")
    found: dict[int, dict[int, list[Block]]] = {}
    for block in rows.iterator(chunk_size=200):
        if block.summary.get("balls", 0) >= FEWEST_BALLS and block.summary.get("numbers"):
            found.setdefault(block.lesson.student_id, {}).setdefault(block.lesson_id, []).append(block)
    return {student: list(lessons.values()) for student, lessons in found.items()}


def _rows(found: list[tuple[int, int, Block]], least: int) -> list[Row]:
    """Return the blocks whose kind, and of each the numbers that, enough people share."""
    kinds = told_by_enough(((_kind(block), person) for person, _, block in found), least=least)
    numbers = told_by_enough(
        (((_kind(block), key), person) for person, _, block in found for key in block.summary["numbers"]), least=least)
    return [
        Row(person=person, visit=visit, club=block.category, purpose=block.purpose, aids=block.with_aids,
            balls=_balls(block.summary["balls"]), numbers=_numbers(block, numbers))
        for person, visit, block in found if _kind(block) in kinds
    ]


def _kind(block: Block) -> tuple[str, str, bool]:
    return block.category, block.purpose, block.with_aids


def _numbers(block: Block, told: set) -> dict[str, dict[str, float]]:
    coarse = {}
    for key, values in block.summary["numbers"].items():
        mean, sd = values.get("mean"), values.get("sd")
        enough = (_kind(block), key) in told and values["n"] >= FEWEST_BALLS
        if key in FIELDS and enough and mean is not None and sd is not None:
            step = GRID[FIELDS[key].dimension]
            coarse[key] = {"mean": _on(step, mean), "sd": _on(step, sd)}
    return coarse


def _on(step: float, value: float) -> float:
    return round(round(value / step) * step, 2) + 0.0


def _balls(count: int) -> str:
    return "5 to 9" if count < 10 else "10 to 19" if count < 20 else "20 or more"


def _age(student: Student, day: date) -> str:
    age = student.age_on(day)
    return "not noted" if age is None else "under 40" if age < 40 else "40 to 59" if age < 60 else "60 or more"


def _index(student: Student) -> str:
    index = student.handicap_index
    if index is None:
        return "none"
    return "under 10" if index < 10 else "10 to 19.9" if index < 20 else "20 or more"
