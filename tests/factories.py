"""Plain functions that make rows for tests; every argument has a default, so a test names what matters."""

import io
import uuid
from datetime import timedelta

from django.utils import timezone
from PIL import Image

from academy.models import Academy, Coach, Student
from lessons.media.content import clean
from lessons.models import Attachment, Block, Lesson
from lessons.services import media as media_services
from lessons.services import shots as shot_services


def make_academy(**values) -> Academy:
    whole = {"name": "Saltmarsh Golf School", "timezone": "Europe/Dublin", "units": "yards", **values}
    return Academy.objects.get_or_create(pk=1, defaults=whole)[0]


def make_coach(username: str = "coach", **values) -> Coach:
    coach = Coach(username=username, **values)
    coach.set_password("a-long-test-password")
    coach.save()
    return coach


def make_student(*, coach: Coach, name: str = "Edda Marlow", **values) -> Student:
    return Student.objects.create(coach=coach, name=name, **values)


def make_lesson(*, student: Student, days_ago: float = 0, **values) -> Lesson:
    starts_at = timezone.now() - timedelta(days=days_ago)
    whole = {"coach": student.coach, "status": Lesson.Status.RUNNING, "starts_at": starts_at, **values}
    return Lesson.objects.create(student=student, **whole)


def make_block(*, lesson: Lesson, **values) -> Block:
    whole = {
        "position": lesson.blocks.count() + 1, "club_name": "Driver", "category": "driver", "intent": "straight",
        "purpose": Block.Purpose.NO_AID, **values,
    }
    return Block.objects.create(lesson=lesson, **whole)


def add_balls(*, block: Block, **columns) -> int:
    """Store one ball a row: ``add_balls(block=b, club_path_deg=[5, 6, 7], side_m=[1, 2, 3])``."""
    return shot_services.add_balls(by=None, block=block, columns=columns)


def add_call(*, block: Block, **calls):
    """Store one called ball: ``add_call(block=b, called_start=1, called_curve=-1, contact="clean")``."""
    return shot_services.add_ball(by=None, block=block, key=uuid.uuid4(), calls=calls, source="called")[0]


def picture_bytes(kind: str = "PNG", size: tuple[int, int] = (160, 120), **values) -> bytes:
    """A small picture as a file."""
    written = io.BytesIO()
    Image.new("RGB", size, (90, 120, 60)).save(written, kind, **values)
    return written.getvalue()


def keep_picture(*, block: Block, data: bytes | None = None, **values) -> Attachment:
    """Keep a picture with a lesson after the student, an adult, said yes to it."""
    student, today = block.lesson.student, timezone.localdate()
    media_services.say_yes(by=student.coach, student=student, day=today)
    whole = {"angle": "face_on", "phase": "before", "aids": [], "keep_days": 180, "key": uuid.uuid4(), **values}
    return media_services.attach(
        by=student.coach, lesson=block.lesson, cleaned=clean(data or picture_bytes()), block=block, **whole)
