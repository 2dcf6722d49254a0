"""What is agreed in a lesson and what happens until the next: the finding, the change, drills, practice, the sheet."""

import random
import uuid
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from typing import Any

from lessons.models import (
    DrillAssignment,
    Finding,
    FollowUp,
    LibraryEntry,
    PracticeEntry,
    Prescription,
    StudentMessage,
)
from lessons.queries.progress.foretold import usual_effects
from lessons.services.drills import card_of
from metrics.rules.library import Library
from metrics.rules.words import fill

from . import words
from .cast import Part
from .rows import Rows
from .timeline import at
from .visits import Visit


@dataclass(frozen=True, kw_only=True)
class Shelf:
    """The library as the demo reads it: once, not once a visit."""

    library: Library
    titles: dict[str, str]
    effects: dict[tuple[str, str], dict[str, tuple[float, float]]]

    def drills_for(self, pattern: str) -> list[Any]:
        return [drill for drill in self.library.drills.values() if pattern in drill.patterns]

    def effect(self, checkpoint: str, category: str) -> dict[str, tuple[float, float]]:
        if (checkpoint, category) not in self.effects:
            self.effects[checkpoint, category] = usual_effects(checkpoint=checkpoint, category=category)
        return self.effects[checkpoint, category]


def shelf(library: Library) -> Shelf:
    """Return the shelf of the shipped library. One query."""
    rows = LibraryEntry.objects.filter(kind="pattern").values_list("slug", "title")
    return Shelf(library=library, titles=dict(rows), effects={})


@dataclass(kw_only=True)
class Between:
    """Writes what one student's visits led to."""

    part: Part
    visits: list[Visit]
    rows: Rows
    shelf: Shelf
    today: datetime
    cue: str = ""
    change: str = ""
    running: list[DrillAssignment] = field(default_factory=list)

    def tell(self) -> None:
        for place, visit in enumerate(self.visits):
            if not visit.blocks:
                visit.lesson.student_note = "Nine holes together: aim first, then the club, then commit. " \
                    "The choices were worth more than the swings."
            elif visit.turn == 0 or not self.cue:
                self._new(visit)
            else:
                self._again(visit)
            until = self.visits[place + 1].lesson.starts_at if place + 1 < len(self.visits) else self.today
            self._drills(visit)
            if self.part.special in {"junior", "little_practice"} and visit.is_last:
                self._named_practice(visit)
            else:
                self._practice(visit, until)
            self._sheet(visit)

    def _new(self, visit: Visit) -> None:
        """The first visit of a chapter: a finding, the one change, its feel in the student's words."""
        rng, fault, hand = self.rows.random, visit.chapter.fault, self.part.record["hand"]
        now, goal = fault.setup[fault.checkpoint]
        self.cue = rng.choice(fault.cues)
        self.change = words.change_words(checkpoint=fault.checkpoint, now=now, goal=goal)
        block = next((block for block in visit.blocks if block.category == fault.club), visit.blocks[0])
        belief = visit.lesson.belief or rng.choice(fault.beliefs)
        finding = self.rows.add(
            Finding, at=visit.lesson.starts_at + timedelta(minutes=22), lesson=visit.lesson, block=block,
            pattern=fault.pattern, title=fill(self.shelf.titles[fault.pattern], hand=hand)[:160], state="hint",
            belief=belief, decision="confirmed", created_by=visit.lesson.coach,
        )
        move = goal - now
        self.rows.add(
            Prescription, at=visit.lesson.starts_at + timedelta(minutes=30), lesson=visit.lesson, finding=finding,
            checkpoint=fault.checkpoint, change=self.change, cue=self.cue, created_by=visit.lesson.coach,
            stop_sign=fill(fault.stop_sign, hand=hand), value_from=now, value_to=goal,
            expected={quantity: [round(edge, 2) for edge in sorted((low * move, high * move))]
                      for quantity, (low, high) in self.shelf.effect(fault.checkpoint, fault.club).items()},
        )
        visit.lesson.student_note = rng.choice(words.NEW).format(change=self.change, cue=self.cue)

    def _again(self, visit: Visit) -> None:
        answer = visit.chapter.answer
        visit.lesson.student_note = words.note(
            self.rows.random, share=visit.share, cue=self.cue,
            needs_aids=answer.with_aid - answer.no_aid > 0.5,
        )

    def _drills(self, visit: Visit) -> None:
        """A chapter begins with two drills; later one of them is exchanged, on most visits. What runs on runs on."""
        rng, day = self.rows.random, visit.lesson.starts_at.date()
        if not visit.blocks or (visit.turn and rng.random() < 0.2):
            return
        offered = self.shelf.drills_for(visit.chapter.fault.pattern)
        ended = self.running if visit.turn == 0 or len(self.running) < 2 else self.running[:1]
        for earlier in ended:
            earlier.ends_on = day
        kept = [one for one in self.running if one not in ended]
        fresh = [drill for drill in offered if drill.slug not in {one.drill for one in kept}]
        minutes = self.part.record["practice_minutes_week"]
        self.running = kept + [
            self.rows.add(
                DrillAssignment, at=visit.lesson.finished_at, student=visit.lesson.student, lesson=visit.lesson,
                drill=drill.slug, card=card_of(drill, hand=self.part.record["hand"]), dose=drill.dose[:120],
                minutes_week=minutes // 2, starts_on=day, created_by=visit.lesson.coach,
            )
            for drill in rng.sample(fresh, min(2 - len(kept), len(fresh)))
        ]

    def _practice(self, visit: Visit, until: datetime) -> None:
        """Ticks from the student's page until the next visit; the keen tick often, some never."""
        rng = self.rows.random
        if not self.running or self.part.practises < 0.06:
            return
        child = self.part.age < 13
        moment = visit.lesson.finished_at + timedelta(days=rng.randint(1, 3), minutes=rng.randint(0, 240))
        while moment < until:
            if rng.random() < self.part.practises:
                balls = rng.choice([None, 10, 20, 20, 30])
                self.rows.add(
                    PracticeEntry, at=moment, student=visit.lesson.student, assignment=rng.choice(self.running),
                    key=self.rows.key(), source="student", practised_at=moment, minutes=rng.choice([8, 10, 10, 15,
                                                                                                    20]),
                    balls=balls, pain=0 if rng.random() < 0.6 else None, fun=rng.choice([2, 3, 3]) if child else None,
                    hits=None if balls is None else round(balls * min(0.9, max(0.2, rng.gauss(0.62, 0.15)))),
                )
            moment += timedelta(days=rng.choice([2, 3, 3, 4]), minutes=rng.randint(-90, 90))

    def _named_practice(self, visit: Visit) -> None:
        """The child who practises two hours a day, and the one who found six minutes."""
        days, minutes = (range(1, 8), 112) if self.part.special == "junior" else (range(5, 6), 6)
        for ago in days:
            moment = self.today - timedelta(days=ago, hours=-11, minutes=-3 * ago)
            self.rows.add(
                PracticeEntry, at=moment, student=visit.lesson.student, assignment=self.running[-1], minutes=minutes,
                key=self.rows.key(), source="student", practised_at=moment, balls=None if minutes < 10 else 60,
                fun=3 if self.part.junior else None, pain=0,
            )

    def _sheet(self, visit: Visit) -> None:
        """Most sheets go out the same evening; some late, some never."""
        rng, lesson = self.rows.random, visit.lesson
        if rng.random() < 0.05 and self.part.scene is None:
            return
        sent = lesson.finished_at + (
            timedelta(minutes=rng.randint(2, 300)) if rng.random() < 0.9 else timedelta(hours=rng.randint(26, 70)))
        sent = min(sent, self.today - timedelta(minutes=20))
        address = lesson.student.email
        mailed = bool(address) and rng.random() < 0.6
        opened = sent + timedelta(minutes=rng.randint(15, 2600)) if rng.random() < 0.88 else None
        self.rows.add(
            FollowUp, at=sent, lesson=lesson, channel="mail" if mailed else "copy", text=lesson.student_note,
            sent_at=sent,
            subject=f"Your lesson on {lesson.starts_at:%-d %B}" if mailed else "", created_by=lesson.coach,
            sent_to=[{"name": lesson.student.name, "address": address, "copy": False}] if mailed else [],
            opened_at=opened if opened and opened < self.today else None,
        )


def add_messages(*, rows: Rows, visits: list[Visit], now: datetime, open_question: bool) -> None:
    """A question now and then, answered within days; a few wait."""
    rng = rows.random
    student = visits[-1].lesson.student
    asked = iter(rng.sample(words.QUESTIONS, len(words.QUESTIONS)))  # nobody asks the same thing twice
    for visit in visits[:-1]:
        if rng.random() < 0.04:
            sent = _daytime(rng, visit.lesson.starts_at.date() + timedelta(days=rng.randint(1, 4)))
            _message(rows, student, sent, *next(asked, words.QUESTIONS[0]))
    if open_question:
        _message(rows, student, _daytime(rng, now.date() - timedelta(days=rng.randint(1, 5))),
                 next(asked, words.QUESTIONS[0])[0])


def _daytime(rng: random.Random, day: date) -> datetime:
    return at(day, rng.randint(8, 21), rng.randint(0, 59))


def _message(rows: Rows, student, sent: datetime, text: str, answer: str = "") -> None:
    key: uuid.UUID = rows.key()
    rows.add(StudentMessage, at=sent, student=student, key=key, kind="question", text=text, sent_at=sent,
             answer=answer,
             answered_at=sent + timedelta(hours=rows.random.randint(2, 40)) if answer else None, source="student")
