"""Outside the lesson hour: rounds, short-game runs, nine holes with the coach, events to come."""

from datetime import datetime, timedelta

import numpy as np

from academy.models import Student
from lessons.models import CourseShot, Round, SkillBall, SkillTest, StudentEvent
from metrics.shortgame.designs import DESIGNS, target_at

from .cast import Part
from .rows import Rows
from .timeline import at
from .visits import Visit

COURSES = (("Saltmarsh, white", 71.2, 128), ("Saltmarsh, yellow", 69.8, 123), ("Heron Links", 72.4, 133),
           ("Fenwold Park", 70.1, 119), ("Kesterhill Heath", 70.9, 126))
EVENTS = ("Club championship", "Society trip to the coast", "Winter league final", "County qualifier",
          "Family foursomes",
          "Captain’s day", "Ladder match", "Charity scramble")
_LEVELS = ("scratch", "low", "mid", "high", "very_high", "beginner")


def add_rounds(*, rows: Rows, part: Part, student: Student, now: datetime) -> None:
    """Cards of those who hand them in; now and then with what was counted on the way."""
    index = part.record["handicap_index"]
    rng, numbers = rows.random, part.player.rng
    if index is None or part.age < 12 or rng.random() > (0.9 if part.scene else 0.45):
        return
    home, counts = rng.choice(COURSES[:2]), rng.random() < 0.4
    day = now.date() - timedelta(days=rng.randint(2, 20))
    drift = rng.uniform(-2.0, 0.8)  # from then to now
    for number in range(rng.randint(4, 24)):
        course, rating, slope = home if rng.random() < 0.7 else rng.choice(COURSES)
        differential = index - drift * number / 24 + 2.8 + numbers.normal(0, 3.0 if index < 8 else 4.2)
        gross = int(np.clip(round(differential * slope / 113 + rating), 62, 140))
        rows.add(
            Round, at=at(day, 20), student=student, played_on=day, course=course, adjusted_gross=gross, slope=slope,
            course_rating=rating, source="student",
            **(_counted(rng, gross - rating) if counts else {}),
        )
        day -= timedelta(days=rng.randint(5, 24))
        if day.month in {1, 2} and rng.random() < 0.5:
            day -= timedelta(days=30)


def _counted(rng, over: float) -> dict[str, int]:
    greens = max(0, min(17, round(12 - over * 0.42 + rng.gauss(0, 1.6))))
    return {"fairways": max(1, min(14, round(9 - over * 0.13 + rng.gauss(0, 1.5)))), "greens": greens,
            "putts": round(29 + greens * 0.25 + over * 0.06 + rng.gauss(0, 1.5)),
            "penalties": max(0, round(over / 16 + rng.gauss(0, 0.8)))}


def add_runs(*, rows: Rows, part: Part, visits: list[Visit]) -> None:
    """Short-game runs on some visits, the same design again some weeks later."""
    rng = rows.random
    later = [visit for visit in visits if visit.blocks and not visit.is_last][2:]
    if not later or rng.random() > 0.4:
        return
    design = DESIGNS[rng.choice(["putt_make", "putt_gate", "putt_pace", "chip_left", "wedge", "sand", "putt_five"])]
    for turn, visit in enumerate(later[:: max(1, len(later) // 3)][:3]):
        _run(rows, part, visit, design, turn)


def _run(rows: Rows, part: Part, visit: Visit, design, turn: int) -> None:
    rng = rows.random
    skill = _LEVELS.index(part.player.level) - 0.35 * turn
    begun = visit.lesson.starts_at + timedelta(minutes=38)
    test = rows.add(
        SkillTest, at=begun, student=visit.lesson.student, lesson=visit.lesson, design=design.slug, begun_at=begun,
        seed=rng.randrange(2**31), created_by=visit.lesson.coach,
        conditions=rng.choice(["Practice green, dry", "Green, slow after rain", "Slight slope left to right", ""]),
    )
    for number in range(1, design.balls + 1):
        target = target_at(design=design, seed=test.seed, number=number).metres
        rows.add(SkillBall, test=test, number=number, key=rows.key(), target_m=target,
                 at=begun + timedelta(seconds=30 * number), **_result(design.kind, target, skill, rng))


def _result(kind: str, target: float, skill: float, rng) -> dict:
    """Return what came of one ball; ``skill`` counts from 0, a scratch player, to 5, a beginner."""
    if kind == "made":
        return {"done": rng.random() < max(0.08, 1.02 - 0.1 * skill * (target / 1.5) ** 0.5 - 0.19 * (target - 1.2))}
    if kind == "gate":
        return {"side": rng.choices([-1, 0, 1], weights=[1 + skill, 12 - 1.6 * skill, 1.4 + skill * 0.7])[0]}
    if kind == "pace":
        return {"value_m": round(rng.gauss(0.12 * target * 0.3, 0.045 * target * (1 + 0.35 * skill)), 2)}
    if kind == "left":
        left = abs(rng.gauss(0, 1)) * target * (0.06 + 0.035 * skill) + 0.2
        clean = rng.random() > 0.04 + 0.06 * skill
        return {"value_m": round(left if clean else left + 0.3 * target, 1),
                "contact": "clean" if clean else rng.choice(["fat", "thin"])}
    if kind == "carry":
        return {"value_m": round(max(4, rng.gauss(target * (1 - 0.012 * skill), target * (0.035 + 0.022 * skill))), 1)}
    return {"done": rng.random() < max(0.15, 0.9 - 0.13 * skill)}


def add_course_shots(*, rows: Rows, visit: Visit) -> None:
    """Nine holes together: the decisions, and what a penalty came from."""
    rng = rows.random
    moment = visit.lesson.starts_at
    for hole in range(1, 10):
        for number, (lie, club) in enumerate(_hole(rng), 1):
            result = rng.choices(["as_meant", "playable", "trouble", "penalty"], weights=[9, 8, 3, 1])[0]
            rows.add(
                CourseShot, lesson=visit.lesson, hole=hole, number=number, key=rows.key(), lie=lie, club=club,
                club_advised=club if rng.random() < 0.7 else rng.choice(["6 iron", "5 wood", "9 iron", "4 hybrid"]),
                aim=rng.choice(["Left edge of the bunker", "Middle of the green", "Lone pine", "Short of the ditch",
                                ""]),
                committed=rng.random() < 0.78, result=result, half_a_shot=rng.random() < 0.15,
                cause=rng.choice(["club", "aim", "strike", "decision"]) if result == "penalty" else "",
                at=moment + timedelta(minutes=6 * hole + number),
            )


def _hole(rng) -> list[tuple[str, str]]:
    first = ("tee", rng.choice(["Driver", "Driver", "5 wood", "7 iron"]))
    second = (rng.choice(["fairway", "fairway", "rough", "slope"]), rng.choice(["7 iron", "9 iron", "4 hybrid",
                                                                                "5 wood"]))
    return [first, second] if rng.random() < 0.6 else [first, second, ("fringe", "Pitching wedge")]


def add_event(*, rows: Rows, part: Part, student: Student, now: datetime) -> None:
    """What somebody works towards: in the weeks before it nothing is changed."""
    rng = rows.random
    if part.record["status"] == "active" and (part.special == "one_degree" or rng.random() < 0.2):
        rows.add(StudentEvent, student=student, name=rng.choice(EVENTS), at=now - timedelta(days=20),
                 on_date=now.date() + timedelta(days=26 if part.special == "one_degree" else rng.randint(8, 120)))
