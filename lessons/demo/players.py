"""The players behind the demo: how fast they swing, how their balls scatter, and how they answer to a change.

Numbers are player-relative. Delivery goes through the impact and flight model, so that the demo's balls hang
together the way real ones do. The SDs are the level priors of the statistics; the rest is invented.
"""

from dataclasses import dataclass, field

import numpy as np

from metrics.flight.impact import Delivery, strike

from .faults import CLUBS, NEUTRAL, Fault, Swing


@dataclass(frozen=True, kw_only=True)
class Answer:
    """How a player answers: share of the way to the goal at each visit's first ten, and on the day."""

    first_ten: tuple[float, ...]
    with_aid: float
    no_aid: float

    def at(self, visit: int) -> float:
        return self.first_ten[min(visit, len(self.first_ten) - 1)]


ANSWERS = {
    "holds": Answer(first_ten=(0.0, 0.75, 0.9, 1.0), with_aid=0.95, no_aid=0.85),
    "slow": Answer(first_ten=(0.0, 0.25, 0.4, 0.55, 0.7, 0.85), with_aid=0.7, no_aid=0.5),
    "needs_aids": Answer(first_ten=(0.0, 0.05, 0.1, 0.05, 0.1), with_aid=1.0, no_aid=0.2),
    "slips": Answer(first_ten=(0.6, -0.25, -0.45, -0.55), with_aid=0.95, no_aid=0.7),
    "flat": Answer(first_ten=(0.0, 0.1, 0.0, 0.1), with_aid=0.3, no_aid=0.2),
    "overshoots": Answer(first_ten=(0.0, 1.9, 2.1, 2.2), with_aid=1.6, no_aid=1.8),
}


@dataclass(frozen=True, kw_only=True)
class Scatter:
    """Shot-to-shot SDs of a level, and the day effect as a share of them."""

    path: float
    face: float
    attack: float
    speed_mps: float
    strike_mm: float
    day_share: float = 0.4


LEVEL_SCATTER = {
    "scratch": Scatter(path=1.0, face=1.3, attack=0.9, speed_mps=0.4, strike_mm=7),
    "low": Scatter(path=1.3, face=1.8, attack=1.1, speed_mps=0.5, strike_mm=8),
    "mid": Scatter(path=1.8, face=2.4, attack=1.5, speed_mps=0.6, strike_mm=10),
    "high": Scatter(path=2.4, face=3.2, attack=2.0, speed_mps=0.8, strike_mm=11),
    "very_high": Scatter(path=3.2, face=4.2, attack=2.6, speed_mps=1.0, strike_mm=13),
    "beginner": Scatter(path=4.5, face=6.0, attack=3.5, speed_mps=1.3, strike_mm=16),
}
_ADULT_SPEED_MPS = {"scratch": 50.5, "low": 48.0, "mid": 45.0, "high": 42.5, "very_high": 40.0, "beginner": 36.5}


def driver_speed_mps(*, level: str, age: int, slight: bool, rng: np.random.Generator) -> float:
    """Return how fast this person swings a driver: the level's speed, less for the young, the old and the slight."""
    usual = _ADULT_SPEED_MPS[level] * (0.87 if slight else 1.0) * (1 - 0.0045 * max(0, age - 45))
    return float(min(usual, 24 + 2.3 * (age - 8) if age < 18 else usual) * rng.normal(1, 0.035))


@dataclass(kw_only=True)
class Player:
    """A person of the demo and how they play."""

    level: str
    speed_mps: float
    rng: np.random.Generator
    bias: dict[str, tuple[float, float]] = field(default_factory=dict)
    luck: float = 1.0
    """How much days and people differ; little in the scenarios, so that each shows what it is there to show."""

    def own_fault(self, fault: Fault) -> Fault:
        """Return the fault as this person shows it: a little more or less of it, the setup with it."""
        more = float(np.clip(self.rng.normal(1, 0.13 * self.luck), 0.8, 1.3))
        now = fault.goal.toward(fault.now, more)
        setup = {key: (_stepped(key, goal + more * (at - goal)), goal) for key, (at, goal) in fault.setup.items()}
        return Fault(**{**vars(fault), "now": now, "setup": setup})

    def neutral(self, club: str) -> Swing:
        """Return the swing with a club nobody works on: the usual one, a little to the person's own side."""
        usual = NEUTRAL[club]
        if club not in self.bias:
            self.bias[club] = (float(self.rng.normal(0, 1.2)), float(self.rng.normal(0, 0.9)))
        path, face = self.bias[club]
        return Swing(**{**vars(usual), "path": usual.path + path, "face_to_path": usual.face_to_path + face,
                        "loss_rate": 0.18 if self.level == "beginner" else usual.loss_rate})

    def day(self) -> dict[str, float]:
        """Draw one day's shift of path, face and attack; it is common to all balls of the day."""
        scatter = LEVEL_SCATTER[self.level]
        return {key: float(self.rng.normal(0, self.luck * scatter.day_share * getattr(scatter, key)))
                for key in ("path", "face", "attack")}

    def balls(self, *, club: str, swing: Swing, day: dict[str, float], count: int, range_ball: bool) -> dict:
        """Return the delivery of some balls as field -> array; launch and flight come later, for all together."""
        scatter, rng = LEVEL_SCATTER[self.level], self.rng
        path = swing.path + day["path"] + rng.normal(0, scatter.path, count)
        face_to_path_sd = (scatter.face**2 + scatter.path**2) ** 0.5 * 0.7
        face = path + swing.face_to_path + day["face"] * 0.5 + rng.normal(0, face_to_path_sd, count)
        attack = swing.attack + day["attack"] + rng.normal(0, scatter.attack, count)
        across = swing.heel_toe_mm + rng.normal(0, scatter.strike_mm, count)
        up = swing.high_low_mm + rng.normal(0, scatter.strike_mm * 0.8, count)
        speed = np.maximum(9, self.speed_mps * CLUBS[club][1] + rng.normal(0, scatter.speed_mps, count))
        loft = np.maximum(4, swing.loft + 0.4 * (attack - swing.attack) + rng.normal(0, 1.2, count))
        mishit = rng.random(count) < swing.loss_rate
        return {
            "club_speed_mps": speed, "club_path_deg": path, "face_angle_deg": face, "attack_angle_deg": attack,
            "dynamic_loft_deg": loft, "strike_heel_toe_mm": across, "strike_high_low_mm": up, "mishit": mishit,
            "slowed": np.full(count, 0.985 if range_ball else 1.0),
        }


def launched(*, club: str, balls: dict[str, np.ndarray]) -> dict[str, np.ndarray]:
    """Return the launch of many balls of one kind of club as field -> array: off the middle and mishit they lose."""
    launch = strike(category=club, delivery=Delivery(**{key: balls[key] for key in Delivery.__dataclass_fields__}))
    across, up, mishit = balls["strike_heel_toe_mm"], balls["strike_high_low_mm"], balls["mishit"]
    kept = np.maximum(0.6, 1 - (across / 90) ** 2 - (up / 90) ** 2) * np.where(mishit, 0.66, 1.0) * balls["slowed"]
    return {
        "ball_speed_mps": np.asarray(launch.ball_speed_mps) * kept,
        "launch_angle_deg": np.clip(np.asarray(launch.launch_angle_deg) + up * 0.08 - 5.0 * mishit, 1.5, 50),
        "launch_direction_deg": 0.75 * balls["face_angle_deg"] + 0.25 * balls["club_path_deg"],
        "spin_rpm": np.maximum(1200, np.asarray(launch.spin_rpm) * (1 - up * 0.006)),
        "spin_axis_deg": np.asarray(launch.spin_axis_deg) + across * 0.12 * (club in {"driver", "fairway"}),
    }


def _stepped(checkpoint: str, value: float) -> float:
    """Round as a coach reads a stick or a tape."""
    if checkpoint == "stance_width_ratio":
        return round(value / 0.05) * 0.05
    if checkpoint == "weight_toe_heel":
        return float(np.clip(round(value), -1, 1))
    return round(value * 2) / 2 if checkpoint == "lead_knuckles" else float(round(value))
