"""Writing one demo student's visits: blocks, balls, setups, the finding, the change, the drills, the practice."""

import random
import uuid
from datetime import datetime, timedelta

import numpy as np

from academy.models import Student
from lessons.models import (
    Block,
    DrillAssignment,
    Finding,
    FollowUp,
    Lesson,
    LibraryEntry,
    PracticeEntry,
    Prescription,
    SetupObservation,
)
from lessons.queries.progress.foretold import usual_effects
from lessons.services.shots import insert_rows
from lessons.summaries import refresh_all
from metrics.rules.words import fill

from .cast import Part
from .players import DEVICES, Swing, calls_of, fly_balls, strike_balls

FROM_DEMO = {"source": "demo"}


class VisitWriter:
    """Writes the visits of one student, oldest first."""

    def __init__(self, *, part: Part, student: Student, venue, device, drills: list[LibraryEntry], seed: int) -> None:
        self.part, self.student, self.venue, self.device = part, student, venue, device
        self.drills, self.rng = drills, random.Random(seed)
        self.fault, self.player = part.player.fault, part.player
        self.ball_type = self.rng.choice(["range", "range", "premium"])
        self.struck: list[tuple[Block, dict]] = []

    def write(self, *, number: int, starts_at: datetime, is_last: bool) -> Lesson:
        """Write one finished visit and return it."""
        lesson = self._lesson(number=number, starts_at=starts_at, is_last=is_last)
        blocks = self._blocks(lesson, number)
        self._setups(lesson, number)
        if number == 0:
            self._finding(lesson, blocks[0])
        self._agree(lesson, number, is_last)
        return lesson

    def _lesson(self, *, number: int, starts_at: datetime, is_last: bool) -> Lesson:
        windy = self.part.windy and is_last
        return Lesson.objects.create(
            student=self.student, coach=self.student.coach, status=Lesson.Status.FINISHED, starts_at=starts_at,
            started_at=starts_at, finished_at=starts_at + timedelta(minutes=58), venue=self.venue,
            device=self.device, ball_type=self.ball_type,
            temperature_c=round(12 + 8 * np.sin(starts_at.timetuple().tm_yday / 58.0) + self.rng.uniform(-4, 4), 0),
            wind_along_mps=-9.0 if windy else None, is_windy=windy, warmed_up=self.rng.random() < 0.8,
            pain_asked=True, practised=self.rng.choices(["yes", "some", "no"], weights=[3, 3, 2])[0],
            second_adult="bay 4" if self.part.junior and self.rng.random() < 0.8 else "",
            goal="Start the ball on the chosen side", first_measure=self._measure() if number else "",
            next_measure=self._measure(), student_note=self._note(number),
            private_note=f"Believes: “{self.fault.belief}”." if number == 0 else "", created_by=self.student.coach,
            **FROM_DEMO,
        )

    def _measure(self) -> str:
        return f"Ten {self.fault.club_name.lower()} balls, no aids, before any advice"

    def _note(self, number: int) -> str:
        if number == 0:
            return f"We changed one thing: {self.fault.change}. Feel for it: “{self.fault.cue}”."
        return f"Same one thing as last time: “{self.fault.cue}”."

    def _blocks(self, lesson: Lesson, number: int) -> list[Block]:
        answer, day = self.player.answer, self.player.day_effect()
        start = answer.first_ten[min(number, len(answer.first_ten) - 1)]
        first_purpose = Block.Purpose.FIRST_TEN if number or self.rng.random() < 0.5 else Block.Purpose.EXPLORE
        if number and self.rng.random() < 0.25:
            first_purpose = Block.Purpose.NO_AID  # a return visit without a first-ten block: it happens
        plan = [
            (first_purpose, [], start, 10, False),
            (Block.Purpose.WITH_AID, ["sticks"], max(start, answer.with_aid), 10, True),
            (Block.Purpose.NO_AID, [], max(start, answer.no_aid), 10, True),
        ]
        blocks = []
        for position, (purpose, aids, share, count, shown) in enumerate(plan, 1):
            block = Block.objects.create(
                lesson=lesson, position=position, club=self.student.clubs.first(), club_name=self.fault.club_name,
                category=self.fault.category, intent=self.fault.intent, aids=aids, purpose=purpose,
                feedback_shown=shown, is_tee=self.fault.category == "driver", created_by=lesson.coach,
                reading=Block.Reading.NUMBERS if DEVICES[self.player.device] else Block.Reading.CALLS, **FROM_DEMO,
            )
            self._strike(block, self.player.swing_at(share), day, count)
            blocks.append(block)
        return blocks

    def _strike(self, block: Block, swing: Swing, day: dict, count: int) -> None:
        balls = strike_balls(
            player=self.player, swing=swing, day=day, count=count, temperature_c=block.lesson.temperature_c
        )
        self.struck.append((block, balls))

    def store_balls(self) -> None:
        """Fly all balls of all visits together and store them with their blocks' numbers."""
        fly_balls([balls for _, balls in self.struck])
        for block, balls in self.struck:
            insert_rows(
                block=block, rows=self._rows(block, balls), batch=None, source="demo", by=block.lesson.coach, first=1
            )
        refresh_all([block for block, _ in self.struck])

    def _rows(self, block: Block, balls: dict) -> list[dict]:
        columns, calls = DEVICES[self.player.device], calls_of(balls)
        begin = block.lesson.starts_at + timedelta(minutes=8 + 14 * (block.position - 1))
        drag = 0.85 if block.lesson.is_windy else 1.0
        rows = []
        for i, call in enumerate(calls):
            row = {key: round(float(balls[key][i]), 2) for key in columns}
            if "carry_m" in row:
                row["carry_m"] = round(row["carry_m"] * drag, 1)
                row["carry_provenance"] = "measured"
            rows.append({
                **(row or call), "hit_at": begin + timedelta(seconds=40 * i), "key": self._key(),
            })
        return rows

    def _setups(self, lesson: Lesson, number: int) -> None:
        share = self.player.answer.first_ten[min(number, 3)]
        rows = []
        for checkpoint, now in self.fault.setup_now.items():
            goal = self.fault.setup_goal[checkpoint]
            phases = [("before", now + share * (goal - now))]
            if checkpoint == self.fault.checkpoint:  # one change at a time
                phases.append(("after", goal))
            for phase, at in phases:
                rows.append(SetupObservation(
                    lesson=lesson, category=self.fault.category, checkpoint=checkpoint, phase=phase,
                    value=round(at, 2), method="tape" if checkpoint.endswith("cm") else "eye",
                    created_by=lesson.coach, **FROM_DEMO,
                ))
        SetupObservation.objects.bulk_create(rows)

    def _finding(self, lesson: Lesson, block: Block) -> None:
        finding = Finding.objects.create(
            lesson=lesson, block=block, pattern=self.fault.pattern, title=self._title(), state="hint",
            belief=self.fault.belief, decision="confirmed", created_by=lesson.coach, **FROM_DEMO,
        )
        Prescription.objects.create(
            lesson=lesson, finding=finding, checkpoint=self.fault.checkpoint, change=self.fault.change,
            cue=self.fault.cue, stop_sign=self.fault.stop_sign, created_by=lesson.coach,
            value_from=self.fault.setup_now[self.fault.checkpoint],
            value_to=self.fault.setup_goal[self.fault.checkpoint], expected=self._expected(), **FROM_DEMO,
        )

    def _expected(self) -> dict[str, list[float]]:
        """What the change should do by the library's usual effects."""
        point = self.fault.checkpoint
        move = self.fault.setup_goal[point] - self.fault.setup_now[point]
        effects = usual_effects(checkpoint=point, category=self.fault.category)
        return {quantity: [round(edge, 2) for edge in sorted((low * move, high * move))]
                for quantity, (low, high) in effects.items()}

    def _title(self) -> str:
        entry = LibraryEntry.objects.filter(kind="pattern", slug=self.fault.pattern).first()
        title = entry.title if entry else self.fault.pattern.replace("_", " ")
        return fill(title, hand=self.student.hand)

    def _agree(self, lesson: Lesson, number: int, is_last: bool) -> None:
        day = lesson.starts_at.date()
        lesson.next_date = day + timedelta(days=self.part.gap_days)
        lesson.save(update_fields=["next_date"])
        FollowUp.objects.create(
            lesson=lesson, channel="copy", text=lesson.student_note, sent_at=lesson.finished_at,
            opened_at=lesson.finished_at + timedelta(hours=3) if self.rng.random() < 0.7 else None, **FROM_DEMO,
        )
        if number and not is_last:
            return
        # What was given before ends with the visit that gives it anew.
        DrillAssignment.objects.filter(student=self.student, ends_on__isnull=True).update(ends_on=day)
        for entry in self.drills[:2]:
            assignment = DrillAssignment.objects.create(
                student=self.student, lesson=lesson, drill=entry.slug, card=entry.data,
                dose=str(entry.data.get("dose", "")), minutes_week=30, starts_on=day, created_by=lesson.coach,
                **FROM_DEMO,
            )
            self._practice(assignment, lesson)

    def _practice(self, assignment: DrillAssignment, lesson: Lesson) -> None:
        rows = []
        for day in range(2, self.part.gap_days, 3):
            if self.rng.random() < self.part.practises:
                rows.append(PracticeEntry(
                    student=self.student, assignment=assignment, key=self._key(), source="student",
                    practised_at=lesson.finished_at + timedelta(days=day), minutes=self.rng.choice([10, 15, 20]),
                    balls=self.rng.choice([None, 10, 20]), pain=0,
                ))
        PracticeEntry.objects.bulk_create(rows)

    def _key(self) -> uuid.UUID:
        return uuid.UUID(int=self.rng.getrandbits(128), version=4)
