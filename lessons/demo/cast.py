"""Who is in the demo: the scenarios first, each a person to look up, then the rest by chance."""

import random
from dataclasses import dataclass

import numpy as np

from . import faults
from .names import invent_names
from .players import ANSWERS, Answer, Fault, Player


@dataclass(frozen=True, kw_only=True)
class Part:
    """One student of the demo: the record's values, how they play, how their lessons go."""

    name: str
    player: Player
    record: dict
    visits: int
    gap_days: int
    last_visit_days_ago: int
    hint: str = ""
    windy: bool = False
    pain: tuple[str, int] | None = None
    practises: float = 0.6
    junior: bool = False
    booked_in_days: int | None = None


@dataclass(frozen=True, kw_only=True)
class Scene:
    """What a scenario fixes; the rest of a part is drawn."""

    name: str
    fault: Fault
    answer: Answer
    level: str
    index: float | None
    hint: str
    visits: int = 3
    gap_days: int = 12
    last_visit_days_ago: int = 14
    device: str = "club and ball"
    hand: str = "right"
    age: int = 41
    windy: bool = False
    pain: tuple[str, int] | None = None
    practises: float = 0.6
    booked_in_days: int | None = 0
    status: str = "active"
    pause_reason: str = ""


SCENES = (
    Scene(name="Mara Averill", fault=faults.OVER_DRAW, answer=ANSWERS["holds"], level="mid", index=11.4,
          hand="left", hint="Left-handed: the same findings as her mirror image, pictures drawn for her hand."),
    Scene(name="Ravi Castellow", fault=faults.OVER_DRAW, answer=ANSWERS["needs_aids"], level="mid", index=9.8,
          visits=4, hint="Good with the sticks, gone without: needs the aids."),
    Scene(name="Bea Dunmoor", fault=faults.TOPPED, answer=ANSWERS["holds"], level="beginner", index=None,
          device="eyes", visits=2, hint="Beginner, no device: contact first, called by eye."),
    Scene(name="Tomasz Brekkan", fault=faults.OVER_DRAW, answer=ANSWERS["holds"], level="scratch", index=0.6,
          visits=6, hint="Wants one degree: how many visits it takes to see that."),
    Scene(name="Ilya Eskilby", fault=faults.AIMS_SLICE_SIDE, answer=ANSWERS["holds"], level="high", index=19.0,
          age=11, hint="Junior, eleven: consents, a guardian’s link, a second adult."),
    Scene(name="Nadia Farrowgate", fault=faults.SKY, answer=ANSWERS["flat"], level="high", index=22.0,
          pain=("low_back", 5), hint="Back pain 5 of 10: no long game, aim and putting instead."),
    Scene(name="Oskar Grindlay", fault=faults.SLICE, answer=ANSWERS["holds"], level="high", index=18.2,
          windy=True, hint="Windy last visit: path and face are judged, carry is not."),
    Scene(name="Signe Halloran", fault=faults.PUSH, answer=ANSWERS["slips"], level="mid", index=12.1, visits=5,
          last_visit_days_ago=9, hint="Held at first, slipped later."),
    Scene(name="Kofi Iversholm", fault=faults.SHOULDERS, answer=ANSWERS["flat"], level="mid", index=7.5,
          practises=0.1, visits=5, hint="A flat month told kindly: hardly practised."),
    Scene(name="Livia Jessamy", fault=faults.PULL, answer=ANSWERS["holds"], level="high", index=16.0,
          device="ball only", hint="Ball numbers only: cannot tell a pull from its cause yet."),
    Scene(name="Teun Kettleby", fault=faults.SLICE, answer=ANSWERS["flat"], level="very_high", index=28.5,
          last_visit_days_ago=75, booked_in_days=None, hint="Overdue without a reason: one for the call list."),
    Scene(name="Amara Lindqvale", fault=faults.SKY, answer=ANSWERS["holds"], level="mid", index=10.2,
          last_visit_days_ago=60, booked_in_days=None, status="paused", pause_reason="injury",
          hint="Paused with an injury: not counted as lapsed."),
)
LEVELS = (("scratch", 0.5), ("low", 3.5), ("mid", 9.5), ("high", 17.0), ("very_high", 27.0))


def cast(*, seed: int, students: int) -> list[Part]:
    """Return the parts of the demo, the scenarios first; the same seed gives the same cast."""
    rng = random.Random(seed)
    named = {scene.name for scene in SCENES}
    names = [name for name in invent_names(rng=rng, count=students + len(SCENES)) if name not in named]
    parts = [_from_scene(scene, np.random.default_rng([seed, i])) for i, scene in enumerate(SCENES)]
    for i in range(max(0, students - len(SCENES))):
        parts.append(_by_chance(names[i], rng, np.random.default_rng([seed, 1000 + i])))
    return parts


def _from_scene(scene: Scene, rng: np.random.Generator) -> Part:
    player = Player(level=scene.level, fault=scene.fault, answer=scene.answer, device=scene.device, rng=rng)
    return Part(
        name=scene.name, player=player, visits=scene.visits, gap_days=scene.gap_days, hint=scene.hint,
        last_visit_days_ago=scene.last_visit_days_ago, windy=scene.windy, pain=scene.pain,
        practises=scene.practises, junior=scene.age < 18, booked_in_days=scene.booked_in_days,
        record={
            "hand": scene.hand, "handicap_index": scene.index, "is_beginner": scene.level == "beginner",
            "status": scene.status, "pause_reason": scene.pause_reason, "age": scene.age,
        },
    )


def _by_chance(name: str, rng: random.Random, numbers: np.random.Generator) -> Part:
    level, index = rng.choice(LEVELS)
    fault = rng.choice(faults.COMMON)
    answer = ANSWERS[rng.choices(list(ANSWERS), weights=[5, 2, 2, 3])[0]]
    device = rng.choices(["club and ball", "ball only", "eyes"], weights=[7, 2, 2])[0]
    player = Player(level=level, fault=fault, answer=answer, device=device, rng=numbers)
    last = rng.choice([3, 5, 8, 10, 14, 18, 24, 33, 50, 80])
    age = rng.choice([9, 13, 15, 22, 29, 34, 38, 44, 51, 57, 63, 70])
    return Part(
        name=name, player=player, visits=rng.randint(1, 9), gap_days=rng.choice([7, 10, 14, 14, 21, 28]),
        last_visit_days_ago=last, practises=rng.random(), junior=age < 18, windy=rng.random() < 0.1,
        booked_in_days=rng.choice([1, 2, 3, 5, 8]) if last < 30 else None,
        record={
            "hand": "left" if rng.random() < 0.1 else "right", "handicap_index": round(index + rng.uniform(-2, 3), 1),
            "is_beginner": False, "status": "active", "pause_reason": "", "age": age,
        },
    )
