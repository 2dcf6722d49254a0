"""Rows for benchmarks: a student, a lesson with many balls, a long history. Drawn from a fixed seed."""

from datetime import timedelta
from typing import Any

import numpy as np

_SPREAD = {
    "club_speed_mps": (42.0, 0.7), "ball_speed_mps": (61.0, 1.1), "launch_angle_deg": (12.5, 1.3),
    "launch_direction_deg": (1.5, 1.6), "spin_rpm": (2800.0, 260.0), "spin_axis_deg": (4.0, 5.0),
    "club_path_deg": (5.4, 1.8), "face_angle_deg": (2.1, 1.7), "attack_angle_deg": (0.8, 1.1),
    "carry_m": (196.0, 7.0), "side_m": (6.0, 9.0), "strike_heel_toe_mm": (3.0, 7.0),
}


def shot_columns(*, count: int, seed: int) -> dict[str, list[float]]:
    """Return twelve columns of plausible driver balls, rounded as a device states them."""
    rng = np.random.default_rng(seed)
    return {key: np.round(rng.normal(mean, sd, count), 2).tolist() for key, (mean, sd) in _SPREAD.items()}


def a_student(name: str = "Edda Marlow") -> Any:
    """Return a new student with a coach and a goal."""
    from academy.models import Coach, Goal
    from tests import factories

    factories.make_academy()
    coach = Coach.objects.filter(username="bench").first() or factories.make_coach(
        "bench", first_name="Runa", last_name="Holm", is_coach=True, is_owner=True
    )
    student = factories.make_student(coach=coach, name=name)
    Goal.objects.create(
        student=student, kind="process", text="Aim the face before the feet", quantity="club_path_deg",
        category="driver",
    )
    return student


def a_lesson_of_balls(*, student: Any, balls: int, blocks: int = 8) -> Any:
    """Return a running lesson whose balls are spread over some blocks, a file's balls with all their numbers."""
    from tests import factories

    lesson = factories.make_lesson(student=student, temperature_c=14, pressure_hpa=1012)
    for number in range(blocks):
        block = factories.make_block(lesson=lesson, aids=["sticks"] if number % 2 else [])
        factories.add_balls(block=block, **shot_columns(count=balls // blocks, seed=number))
    return lesson


def thirty_visits(*, balls_a_visit: int) -> Any:
    """Return a student with thirty finished visits: a first ten, a block with aids and one without on each."""
    from lessons.models import Block, Lesson
    from lessons.services.standing import refresh_standing
    from tests import factories

    student = a_student("Orla Fenwick")
    plan = ((Block.Purpose.FIRST_TEN, [], 10), (Block.Purpose.WITH_AID, ["sticks"], balls_a_visit // 2 - 5),
            (Block.Purpose.NO_AID, [], balls_a_visit // 2 - 5))
    for visit in range(30):
        lesson = factories.make_lesson(
            student=student, days_ago=14 * (30 - visit), status=Lesson.Status.FINISHED, temperature_c=14,
            pressure_hpa=1012,
        )
        for place, (purpose, aids, count) in enumerate(plan):
            block = factories.make_block(lesson=lesson, purpose=purpose, aids=aids)
            columns = shot_columns(count=count, seed=100 * visit + place)
            begin = lesson.starts_at + timedelta(minutes=10 * place)
            columns["hit_at"] = [begin + timedelta(seconds=30 * ball) for ball in range(count)]
            factories.add_balls(block=block, **columns)
    refresh_standing(student=student)
    return student
