"""Who is in the demo: the scenarios first, each a person to look up, then the rest by chance."""

import random
from dataclasses import dataclass
from datetime import date

import numpy as np

from .faults import COMMON, TOPPED, Fault
from .names import invent_names
from .players import ANSWERS, Answer, Player, driver_speed_mps
from .scenes import SCENES, Scene
from .timeline import LONG_AGO, visit_days

LEVELS = (("scratch", 0.3, 4), ("low", 3.4, 12), ("mid", 9.0, 34), ("high", 16.6, 32), ("very_high", 27.0, 13),
          ("beginner", None, 5))
"""Level, its middle index, and how common it is."""
COVERAGE = (0.92, 0.68, 0.8, 0.5)
"""How often each coach begins a return visit with the first ten."""
_MINUTES = {"junior": {"practice_minutes_week": 780}, "little_practice": {"practice_minutes_week": 30}}
"""What two scenarios say they practise in a week."""


@dataclass(frozen=True, kw_only=True)
class Chapter:
    """Some visits in a row that work on one fault."""

    fault: Fault
    answer: Answer
    visits: int


@dataclass(kw_only=True)
class Part:
    """One student of the demo: the record's values, how they play, when they came, what was worked on."""

    number: int
    name: str
    coach: int
    player: Player
    device: str
    age: int
    record: dict
    days: list[date]
    chapters: list[Chapter]
    hour: int
    gap: int
    practises: float
    booked: int | None
    scene: Scene | None = None
    slight: bool = False

    @property
    def junior(self) -> bool:
        return self.age < 18

    @property
    def special(self) -> str:
        return self.scene.special if self.scene else ""


def cast(*, seed: int, students: int, coaches: int, today: date) -> list[Part]:
    """Return the parts of the demo, the scenarios first; the same seed gives the same cast."""
    rng = random.Random(seed)
    taken = {scene.name.split()[0] for scene in SCENES}  # so that a first name finds the scenario, and nobody else
    invented = invent_names(rng=rng, count=2 * students)
    names = [name for name in invented if name.split()[0] not in taken][:max(0, students - len(SCENES))]
    parts = [_from_scene(scene, number, seed, today) for number, scene in enumerate(SCENES[:students])]
    return [*parts, *(_by_chance(name, len(SCENES) + i, coaches, seed, today) for i, name in enumerate(names))]


def _from_scene(scene: Scene, number: int, seed: int, today: date) -> Part:
    rng, numbers = random.Random(f"{seed} {scene.name}"), np.random.default_rng([seed, number])
    player = Player(level=scene.level, rng=numbers, luck=0.3, speed_mps=driver_speed_mps(
        level=scene.level, age=scene.age, slight=scene.slight, rng=numbers))
    own = Chapter(fault=player.own_fault(scene.fault), answer=ANSWERS[scene.answer], visits=scene.visits)
    total = scene.visits + scene.earlier
    first = scene.last + (total - 1) * scene.gap
    ago = [scene.last + scene.gap * i for i in range(total)][::-1]
    days = [date.fromordinal(today.toordinal() - one) for one in ago]
    before = _chapters(scene.earlier, player, rng, other_than=scene.fault.club) if scene.earlier else []
    return Part(
        number=number, name=scene.name, coach=scene.coach, player=player, device=scene.device, age=scene.age,
        record=_record(scene.level, scene.index, scene.hand, rng, first, status=scene.status,
                       pause_reason=scene.pause_reason, demo_hint=scene.hint, **_MINUTES.get(scene.special, {})),
        days=days, chapters=[*before, own], hour=rng.choice([9, 10, 11, 14, 15, 16]), gap=scene.gap,
        practises=scene.practises, booked=scene.booked, scene=scene, slight=scene.slight,
    )


def _by_chance(name: str, number: int, coaches: int, seed: int, today: date) -> Part:
    rng, numbers = random.Random(f"{seed} {number}"), np.random.default_rng([seed, number])
    level, middle, _ = rng.choices(LEVELS, weights=[row[2] for row in LEVELS])[0]
    age = rng.choices([rng.randint(8, 17), rng.randint(18, 39), rng.randint(40, 62), rng.randint(63, 79)],
                      weights=[22, 26, 36, 16])[0]
    if age < 13 and level in {"scratch", "low", "mid"}:
        level, middle = "very_high", 29.0
    slight = rng.random() < 0.42
    player = Player(level=level, rng=numbers,
                    speed_mps=driver_speed_mps(level=level, age=age, slight=slight, rng=numbers))
    gap = rng.choice([12, 14, 14, 17, 21, 21, 28, 28])
    left, paused = rng.random() < 0.12, rng.random() < 0.06
    first = LONG_AGO if rng.random() < 0.5 else rng.randint(25, LONG_AGO)
    last = rng.randint(70, max(80, first - 60)) if left else rng.randint(1, max(2, min(gap, 20)))
    days = visit_days(rng=rng, today=today, first=max(first, last), last=last, gap=gap)
    index = None if middle is None else round(middle + rng.uniform(-2.4, 3.2), 1)
    pause = rng.choice(["away", "family", "season", "injury"])
    status = "left" if left else "paused" if paused else "active"
    return Part(
        number=number, name=name, coach=_coach(number, coaches, rng), player=player,
        device=rng.choices(["bay", "path", "small", "eyes"], weights=[64, 10, 14, 12])[0], age=age,
        record=_record(level, index, "left" if rng.random() < 0.1 else "right", rng, max(first, last), status=status,
                       pause_reason=pause if status == "paused" else ""),
        days=days, chapters=_chapters(len(days), player, rng), hour=rng.choice([9, 10, 11, 12, 14, 15, 16, 17]),
        gap=gap, practises=rng.random() ** 0.8, slight=slight,
        booked=rng.randint(2, max(3, gap)) if status == "active" else None,
    )


def _coach(number: int, coaches: int, rng: random.Random) -> int:
    return number % coaches if coaches > 4 else rng.choices(range(coaches), weights=[26, 28, 26, 20][:coaches])[0]


def _chapters(visits: int, player: Player, rng: random.Random, *, other_than: str = "") -> list[Chapter]:
    """Share visits out to faults, never twice in a row with one kind of club; the last one has time to show."""
    chapters: list[Chapter] = []
    last, tops = other_than, player.level == "beginner" and not other_than
    while visits > 0:
        count = rng.randint(2, 6)
        count = visits if visits - count < 2 else count
        fault = TOPPED if tops and not chapters else rng.choice(
            [one for one in COMMON if one.club not in {last, other_than}])
        answer = ANSWERS[rng.choices(list(ANSWERS), weights=[30, 26, 14, 6, 21, 3])[0]]
        chapters.append(Chapter(fault=player.own_fault(fault), answer=answer, visits=count))
        visits, last = visits - count, fault.club
    return chapters


def _record(level: str, index: float | None, hand: str, rng: random.Random, first: int, **more: object) -> dict:
    return {
        "hand": hand, "handicap_index": index, "is_beginner": level == "beginner",
        "practice_minutes_week": rng.choice([30, 30, 60, 60, 90, 120]),
        "shoulder_width_cm": rng.choice([None, 37.0, 38.5, 40.0, 41.5]), **more,
    }
