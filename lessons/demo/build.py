"""Building the demo academy from its seed: people and lessons are invented in memory, then written table by table."""

import random
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date
from itertools import islice

from django.db import transaction
from django.utils import timezone

from academy.models import Academy, Student
from lessons.library import stored_library
from lessons.models import Lesson, Shot
from lessons.services.standing import refresh_standing

from . import office, play
from .balls import Balls
from .between import Between, Shelf, add_messages, shelf
from .cast import Part, cast
from .files import add_files
from .people import add_health, add_person
from .plans import add_plans
from .readings import read_findings
from .rows import Rows, keep_counting
from .scenes import SCENES
from .staff import House, found_house
from .timeline import CLASS_HOUR, CLASS_WEEKDAY, LONG_AGO, Diary, at
from .visits import Story, Visit

SEED = 20417
NAME = "Saltmarsh Golf School"
STUDENTS = {"small": 30, "standard": 120, "large": 2000}
AT_ONCE = 120
"""Students that are in memory together, so that two thousand need no more of it than a hundred."""
CLASS_COACH = 2
NOW_HOUR = 6
"""Nothing in the record is later than this hour of today, so that a day has one demo and not twenty-four."""


@dataclass(frozen=True, kw_only=True)
class Told:
    """One student of the demo with what was written."""

    part: Part
    student: Student
    visits: list[Visit]


@transaction.atomic
@timezone.override("Europe/Dublin")
def build(*, size: str, say: Callable[[str], None], seed: int = SEED) -> None:
    """Fill an empty database with the demo academy; refuses one that holds anything."""
    if Academy.objects.exists():
        raise ValueError("The database already holds an academy.")
    rows, balls, today = Rows(), Balls(), timezone.localdate()
    rows.random = random.Random(seed)
    house = found_house(rows=rows, students=STUDENTS[size], today=today, name=NAME)
    parts = cast(seed=seed, students=STUDENTS[size], coaches=len(house.coaches), today=today)
    say(f"Inventing {len(parts)} students and their lessons …")
    diary, books, juniors = _diary(today), shelf(stored_library()), []
    for done, batch in _batches(parts):
        told = [_tell(part, house, diary, books, rows, balls, seed) for part in batch]
        juniors += [one.student for one in told if one.part.junior]
        balls.fly()
        if done == len(parts):
            _house_matters(rows, house, told, juniors, today, seed)
        rows.store()
        balls.store()
        for one in told:
            rows.random = random.Random(f"{seed} files {one.part.number}")
            add_files(rows=rows, special=one.part.special, visits=one.visits)
            read_findings(visits=one.visits)
            refresh_standing(student=one.student)
            add_plans(rows=rows, part=one.part, student=one.student, now=at(today, NOW_HOUR))
        rows.store()
        say(f"… {done} of {len(parts)} students")
    keep_counting()
    say(f"{Lesson.objects.count()} lessons and {Shot.objects.count()} balls are there.")


def _batches(parts: list[Part]) -> Iterator[tuple[int, list[Part]]]:
    rest, done = iter(parts), 0
    while batch := list(islice(rest, AT_ONCE)):
        done += len(batch)
        yield done, batch


def _diary(today: date) -> Diary:
    """Keep the hours of the Saturday squad free."""
    days = (date.fromordinal(today.toordinal() + one) for one in range(-LONG_AGO - 40, 40))
    return Diary(today=today, taken={
        (CLASS_COACH, day, hour) for day in days if day.weekday() == CLASS_WEEKDAY
        for hour in (CLASS_HOUR, CLASS_HOUR + 1)})


def _tell(part: Part, house: House, diary: Diary, books: Shelf, rows: Rows, balls: Balls, seed: int) -> Told:
    """Write one student's whole story."""
    rows.random = random.Random(f"{seed} rows {part.number}")
    now = at(diary.today, NOW_HOUR)
    person = add_person(rows=rows, part=part, coach=house.coaches[part.coach], today=diary.today)
    story = Story(part=part, student=person.student, bag=person.bag, places=house.places, rows=rows, balls=balls,
                  diary=diary)
    visits = story.tell()
    add_health(rows=rows, part=part, student=person.student, today=diary.today)
    office.book_next(story=story, visits=visits, today_hour=_hour_today(part))
    Between(part=part, visits=visits, rows=rows, shelf=books, today=now).tell()
    add_messages(rows=rows, visits=visits, now=now, open_question=part.number in {4, 17, 41, 63, 88})
    office.sell_and_use(rows=rows, part=part, visits=visits, today=diary.today)
    play.add_rounds(rows=rows, part=part, student=person.student, now=now)
    play.add_runs(rows=rows, part=part, visits=visits)
    play.add_event(rows=rows, part=part, student=person.student, now=now)
    for visit in visits:
        if visit.lesson.kind == Lesson.Kind.COURSE:
            play.add_course_shots(rows=rows, visit=visit)
    return Told(part=part, student=person.student, visits=visits)


def _hour_today(part: Part) -> int | None:
    """Return the hour of today's lesson: the scenarios of the day in their order, a break at one."""
    if part.scene is None or part.booked != 0:
        return None
    today = [scene.name for scene in SCENES if scene.booked == 0]
    return (9, 10, 11, 12, 14, 15, 16, 17)[today.index(part.name)]


def _house_matters(
    rows: Rows, house: House, told: list[Told], juniors: list[Student], today: date, seed: int,
) -> None:
    """Write what belongs to the academy and not to one student."""
    rows.random = random.Random(f"{seed} house")
    now = at(today, NOW_HOUR)
    office.run_classes(rows=rows, coach=house.coaches[CLASS_COACH], juniors=juniors, places=house.places, today=today,
                       rng=rows.random)
    here = [one for one in told if one.student.status == Student.Status.ACTIVE]
    office.add_incidents(rows=rows, coaches=house.coaches, places=house.places, student=here[-1].student, today=today)
    office.add_waiting(rows=rows, students=[one.student for one in here[-4:]], now=now)
    office.add_marks(rows=rows, last=[one.visits[-1].lesson for one in here[-12:-7]], now=now)
