"""One student's visits: the hour, its weather, the blocks and what was agreed."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from academy.models import Club, Student, Venue
from lessons.models import Block, Booking, DataSource, Lesson, SetupObservation
from lessons.services.calendar import facts_told

from . import words
from .balls import Balls, strike_block
from .cast import Chapter, Part
from .faults import CLUBS
from .hour import Planned, plan_hour
from .rows import Rows
from .timeline import Diary, at
from .weather import temperature_of, wind_of

Purpose = Block.Purpose


@dataclass(frozen=True, kw_only=True)
class Places:
    """Where lessons are, and with what."""

    range: Venue
    grass: Venue
    studio: Venue
    devices: dict[str, DataSource]


@dataclass(frozen=True, kw_only=True)
class Visit:
    """A visit that is written: which chapter, the how manieth of it, and how much of the way it showed."""

    lesson: Lesson
    chapter: Chapter
    turn: int
    share: float
    blocks: list[Block]
    is_last: bool


@dataclass(kw_only=True)
class Story:
    """Writes one student's visits, oldest first."""

    part: Part
    student: Student
    bag: dict[str, Club]
    places: Places
    rows: Rows
    balls: Balls
    diary: Diary

    def __post_init__(self) -> None:
        self.random = self.rows.random
        self.coach = self.student.coach
        self.ball_type = self.random.choice(["range", "range", "range", "premium"])
        self.outdoors = self.places.grass if self.random.random() < 0.2 else self.places.range
        self.in_studio = self.part.scene is None and self.part.device == "bay" and self.random.random() < 0.25

    def tell(self) -> list[Visit]:
        """Write every visit of the past and return them."""
        hours = self._hours()
        turns = [(chapter, turn) for chapter in self.part.chapters for turn in range(chapter.visits)][-len(hours):]
        visits: list[Visit] = []
        for place, ((chapter, turn), starts_at) in enumerate(zip(turns, hours, strict=True)):
            if place and self.random.random() < 0.11:
                self._missed(near=starts_at.date() - timedelta(days=2))
            later = hours[place + 1].date() if place + 1 < len(hours) else self._agreed(starts_at.date())
            visits.append(self._visit(
                chapter=chapter, turn=turn, starts_at=starts_at, next_date=later, before=visits,
                is_last=place + 1 == len(hours),
            ))
        return visits

    def _hours(self) -> list[datetime]:
        """Take the hours; two lessons on one day would be none."""
        taken = [self.diary.take(coach=self.part.coach, near=day, hour=self.part.hour) for day in self.part.days]
        return [at(day, hour) for day, hour in dict(sorted(taken)).items()]

    def _agreed(self, last: date) -> date:
        """Return the date agreed at the last visit: the booked one, else one that may have passed."""
        if self.part.booked is not None:
            return self.diary.today + timedelta(days=self.part.booked)
        return last + timedelta(days=self.part.gap)

    def _missed(self, *, near: date) -> None:
        """Write a lesson that did not take place."""
        if near >= self.diary.today:
            return
        day, hour = self.diary.take(coach=self.part.coach, near=near, hour=self.part.hour)
        came_not = self.random.random() < 0.25
        lesson = self.rows.add(
            Lesson, student=self.student, coach=self.coach, starts_at=at(day, hour), venue=self.outdoors,
            status=Lesson.Status.NO_SHOW if came_not else Lesson.Status.CANCELLED, created_by=self.coach,
            at=at(day, hour) - timedelta(days=9),
        )
        reason = "" if came_not else self.random.choices(
            ["student", "ill", "weather", "coach", "place"], weights=[9, 4, 4, 2, 1])[0]
        notice = self.random.choice([2, 5, 20, 30, 50, 75, 120])
        self.book(lesson, cancel_reason=reason, cancelled_at=None if came_not else lesson.starts_at - timedelta(
            hours=notice), cancel_note=self.random.choice(words.CANCELLED) if reason == "student" else "")

    def book(self, lesson: Lesson, **values) -> Booking:
        """Write what the diary and calendar programs know of a lesson."""
        booking = self.rows.add(Booking, lesson=lesson, created_by=self.coach, at=lesson.created_at, bay=str(
            self.random.randint(1, 8)) if lesson.venue == self.places.range else "", **values)
        booking.changed_at = values.get("cancelled_at") or lesson.created_at
        booking.published = facts_told(lesson, booking)
        return booking

    def _visit(
        self, *, chapter: Chapter, turn: int, starts_at: datetime, next_date: date, before: list[Visit], is_last: bool,
    ) -> Visit:
        device = self._device(starts_at.date())
        lesson, wind = self._lesson(starts_at, device, next_date, first=not before, is_last=is_last)
        share = chapter.answer.at(turn)
        fault = chapter.fault
        lesson.goal = self.random.choice(fault.goals)
        lesson.next_measure = self.random.choice(words.MEASURES).format(club=CLUBS[fault.club][0].lower())
        if before:
            lesson.first_measure = before[-1].lesson.next_measure
        else:
            lesson.belief = self.random.choice(fault.beliefs)
        visit = Visit(lesson=lesson, chapter=chapter, turn=turn, share=share, is_last=is_last,
                      blocks=[] if lesson.kind == Lesson.Kind.COURSE else self._blocks(
                          lesson, chapter, turn, before, device, wind))
        if visit.blocks:
            self._setups(visit)
        return visit

    def _device(self, day: date) -> str:
        if self.in_studio and day.month in {12, 1, 2}:
            return "studio"
        return self.part.device

    def _lesson(
        self, starts_at: datetime, device: str, next_date: date, *, first: bool, is_last: bool,
    ) -> tuple[Lesson, tuple[float, float]]:
        rng, indoors = self.random, device == "studio"
        wind, noted = wind_of(rng, indoors=indoors or self.part.scene is not None)
        if self.part.special == "wind" and is_last:
            wind, noted = (-9.0, 1.5), True
        course = not first and not is_last and self.part.scene is None and rng.random() < 0.035
        junior = self.part.junior
        lesson = self.rows.add(
            Lesson, at=starts_at - timedelta(days=rng.randint(3, 14)), student=self.student, coach=self.coach,
            created_by=self.coach, status=Lesson.Status.FINISHED, starts_at=starts_at, started_at=starts_at,
            kind=Lesson.Kind.COURSE if course else Lesson.Kind.LESSON, minutes=60,
            finished_at=starts_at + timedelta(minutes=rng.randint(52, 66)),
            venue=self.places.studio if indoors else self.outdoors,
            device=None if course else self.places.devices.get(device), ball_type="" if course else self.ball_type,
            temperature_c=19.0 if indoors else temperature_of(rng, starts_at.date()),
            pressure_hpa=round(rng.gauss(1013, 9), 0) if rng.random() < 0.35 else None,
            wind_along_mps=wind[0] if noted and any(wind) else None,
            wind_cross_mps=wind[1] if noted and any(wind) else None,
            is_windy=abs(wind[0]) + abs(wind[1]) > 5, warmed_up=rng.random() < 0.85, pain_asked=rng.random() < 0.93,
            practised=rng.choices(["yes", "some", "no"], weights=[1 + 4 * self.part.practises, 3, 3])[0],
            played=rng.choice(words.PLAYED) if rng.random() < 0.45 and not junior else "",
            second_adult=self._second_adult(), next_date=next_date,
            private_note=rng.choice(words.PRIVATE) if rng.random() < 0.22 else "",
        )
        self.book(lesson)
        return lesson, wind

    def _second_adult(self) -> str:
        if not self.part.junior:
            return ""
        if self.part.special == "junior":
            return "bay 4"
        return self.random.choice(["bay 4", "parent on the bench", "office door open", "helper", ""])

    def _blocks(
        self, lesson: Lesson, chapter: Chapter, turn: int, before: list[Visit], device: str, wind: tuple[float, float],
    ) -> list[Block]:
        day = self.part.player.day()
        last = (before[-1].chapter, before[-1].turn) if before else None
        plan = plan_hour(part=self.part, rng=self.random, chapter=chapter, turn=turn, last=last)
        return [self._block(lesson, place, one, day, device, wind) for place, one in enumerate(plan, 1)]

    def _block(
        self, lesson: Lesson, place: int, one: Planned, day: dict, device: str, wind: tuple[float, float],
    ) -> Block:
        club = self.bag["new" if one.fresh else one.club]
        block = self.rows.add(
            Block, at=lesson.starts_at, lesson=lesson, position=place, club=club, club_name=club.name,
            category=one.club, intent=one.intent, aids=list(one.aids), purpose=one.purpose, feedback_shown=one.shown,
            is_tee=one.club == "driver", wanted_balls=one.count, is_mixed=one.purpose == Purpose.TRANSFER,
            created_by=self.coach, reading=Block.Reading.NUMBERS if lesson.device else Block.Reading.CALLS,
        )
        player = self.part.player
        balls = player.balls(club=one.club, swing=one.swing, day=day, count=one.count,
                             range_ball=self.ball_type == "range")
        self.balls.struck.append(strike_block(
            rows=self.rows, block=block, device=device, balls=balls, wind=wind, rng=player.rng))
        return block

    def _setups(self, visit: Visit) -> None:
        """What was looked at: everything at the first visit of a chapter, later the one change and maybe another."""
        fault, rng, share = visit.chapter.fault, self.random, min(visit.share, 1.0)
        for checkpoint, (now, goal) in fault.setup.items():
            is_change = checkpoint == fault.checkpoint
            if visit.turn and not is_change and rng.random() < 0.5:
                continue
            self._setup(visit.lesson, fault.club, checkpoint, "before", now + share * (goal - now))
            if is_change and rng.random() < (1.0 if visit.turn == 0 else 0.6):
                self._setup(visit.lesson, fault.club, checkpoint, "after", goal)

    def _setup(self, lesson: Lesson, club: str, checkpoint: str, phase: str, value: float) -> None:
        rng = self.random
        if checkpoint.endswith("_deg"):
            value, method = round(value + rng.gauss(0, 0.5)), rng.choice(["eye", "eye", "photo"])
        elif checkpoint.endswith(("_cm", "_mm")):
            value, method = round(2 * value + rng.gauss(0, 0.5)) / 2, "tape"
        else:
            value, method = round(value, 2), "eye"
        self.rows.add(
            SetupObservation, at=lesson.starts_at + timedelta(minutes=20 if phase == "before" else 30), lesson=lesson,
            category=club, checkpoint=checkpoint, phase=phase, value=float(value), method=method,
            created_by=self.coach,
        )
