"""The players behind the demo: what they really do, how it scatters, and how they answer to a change.

Numbers are player-relative. Delivery goes through the impact and flight model, so that the demo's balls hang
together the way real ones do. The SDs are the level priors of the statistics; the rest is invented.
"""

from dataclasses import dataclass, field

import numpy as np

from metrics.flight.air import air_at
from metrics.flight.impact import Delivery, strike
from metrics.flight.trajectory import fly
from metrics.flight.types import Air, Launch


@dataclass(frozen=True, kw_only=True)
class Swing:
    """What one player does with one kind of club, on average."""

    club_path_deg: float
    face_to_path_deg: float
    attack_angle_deg: float
    dynamic_loft_deg: float
    club_speed_mps: float
    heel_toe_mm: float = 0.0
    high_low_mm: float = 0.0
    loss_rate: float = 0.04
    """Share of mishits, which lose speed."""


@dataclass(frozen=True, kw_only=True)
class Fault:
    """A pattern as a player shows it: the swing of the first visit, the setup behind it, the swing to reach."""

    pattern: str
    category: str
    club_name: str
    intent: str
    now: Swing
    goal: Swing
    setup_now: dict[str, float]
    setup_goal: dict[str, float]
    checkpoint: str
    change: str
    cue: str
    stop_sign: str
    belief: str = ""


@dataclass(frozen=True, kw_only=True)
class Answer:
    """How a player answers: share of the way to the goal at each visit's first ten, and on the day."""

    first_ten: tuple[float, ...]
    with_aid: float
    no_aid: float


HOLDS = Answer(first_ten=(0.0, 0.75, 0.9, 1.0), with_aid=0.95, no_aid=0.85)
NEEDS_AIDS = Answer(first_ten=(0.0, 0.1, 0.15, 0.2), with_aid=1.0, no_aid=0.15)
SLIPS = Answer(first_ten=(0.0, 0.8, 0.7, 0.1), with_aid=0.95, no_aid=0.8)
FLAT = Answer(first_ten=(0.0, 0.1, 0.0, 0.1), with_aid=0.3, no_aid=0.2)
ANSWERS = {"holds": HOLDS, "needs_aids": NEEDS_AIDS, "slips": SLIPS, "flat": FLAT}


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
    "low": Scatter(path=1.3, face=1.8, attack=1.1, speed_mps=0.5, strike_mm=9),
    "mid": Scatter(path=1.8, face=2.4, attack=1.5, speed_mps=0.6, strike_mm=11),
    "high": Scatter(path=2.4, face=3.2, attack=2.0, speed_mps=0.8, strike_mm=13),
    "very_high": Scatter(path=3.2, face=4.2, attack=2.6, speed_mps=1.0, strike_mm=16),
    "beginner": Scatter(path=4.5, face=6.0, attack=3.5, speed_mps=1.3, strike_mm=20),
}

DEVICES: dict[str, tuple[str, ...]] = {
    "club and ball": (
        "club_speed_mps", "ball_speed_mps", "smash_factor", "club_path_deg", "face_angle_deg", "face_to_path_deg",
        "attack_angle_deg", "dynamic_loft_deg", "launch_angle_deg", "launch_direction_deg", "spin_rpm",
        "spin_axis_deg", "carry_m", "side_m", "apex_m", "landing_angle_deg", "strike_heel_toe_mm",
        "strike_high_low_mm",
    ),
    "ball only": (
        "ball_speed_mps", "launch_angle_deg", "launch_direction_deg", "spin_rpm", "spin_axis_deg", "carry_m",
        "side_m",
    ),
    "eyes": (),
}


@dataclass
class Player:
    """A person of the demo and how they play."""

    level: str
    fault: Fault
    answer: Answer
    device: str
    rng: np.random.Generator = field(repr=False)

    def swing_at(self, share: float) -> Swing:
        """Return the swing that share of the way from the fault to the goal."""
        now, goal = self.fault.now, self.fault.goal
        return Swing(**{
            name: getattr(now, name) + share * (getattr(goal, name) - getattr(now, name))
            for name in Swing.__dataclass_fields__
        })

    def day_effect(self) -> dict[str, float]:
        """Draw one day's shift of path, face and attack; it is common to all balls of the day."""
        scatter = LEVEL_SCATTER[self.level]
        draw = self.rng.normal
        return {
            "path": draw(0, scatter.day_share * scatter.path),
            "face": draw(0, scatter.day_share * scatter.face),
            "attack": draw(0, scatter.day_share * scatter.attack),
        }


def strike_balls(*, player: Player, swing: Swing, day: dict[str, float], count: int, temperature_c: float) -> dict:
    """Return the delivery and launch of one block's balls as field -> array; ``fly_balls`` adds the flight."""
    scatter, rng = LEVEL_SCATTER[player.level], player.rng
    path = swing.club_path_deg + day["path"] + rng.normal(0, scatter.path, count)
    face_to_path_sd = (scatter.face**2 + scatter.path**2) ** 0.5 * 0.7
    face = path + swing.face_to_path_deg + day["face"] * 0.5 + rng.normal(0, face_to_path_sd, count)
    attack = swing.attack_angle_deg + day["attack"] + rng.normal(0, scatter.attack, count)
    loft = np.maximum(4, swing.dynamic_loft_deg + rng.normal(0, 1.2, count))
    speed = np.maximum(9, swing.club_speed_mps + rng.normal(0, scatter.speed_mps, count))
    across = swing.heel_toe_mm + rng.normal(0, scatter.strike_mm, count)
    up = swing.high_low_mm + rng.normal(0, scatter.strike_mm * 0.8, count)
    mishit = rng.random(count) < swing.loss_rate
    launch = strike(
        delivery=Delivery(
            club_speed_mps=speed, club_path_deg=path, face_angle_deg=face, attack_angle_deg=attack,
            dynamic_loft_deg=loft,
        ),
        category=player.fault.category,
    )
    kept = np.maximum(0.5, 1 - (across / 60) ** 2 - (up / 60) ** 2) * np.where(mishit, 0.72, 1.0)
    ball_speed = np.asarray(launch.ball_speed_mps) * kept
    wood = player.fault.category in {"driver", "fairway"}
    air = air_at(temperature_c=temperature_c, altitude_m=15)
    return {
        "club_speed_mps": speed, "ball_speed_mps": ball_speed, "smash_factor": ball_speed / speed,
        "club_path_deg": path, "face_angle_deg": face, "face_to_path_deg": face - path,
        "attack_angle_deg": attack, "dynamic_loft_deg": loft,
        "launch_angle_deg": np.clip(np.asarray(launch.launch_angle_deg) + up * 0.08 - 4.0 * mishit, 1.5, 50),
        "launch_direction_deg": 0.75 * face + 0.25 * path,
        "spin_rpm": np.maximum(1200, np.asarray(launch.spin_rpm) * (1 - up * 0.006)),
        "spin_axis_deg": np.asarray(launch.spin_axis_deg) + across * 0.12 * wood,
        "strike_heel_toe_mm": across, "strike_high_low_mm": up, "contact": _contacts(mishit, up, across),
        "density_kg_m3": np.full(count, air.density_kg_m3),
        "kinematic_viscosity_m2_s": np.full(count, air.kinematic_viscosity_m2_s),
    }


def fly_balls(groups: list[dict]) -> None:
    """Add the flight to many blocks' balls at once: one long flight is far quicker than many short ones."""
    def joined(key: str) -> np.ndarray:
        return np.concatenate([group[key] for group in groups])

    landing = fly(
        launch=Launch(**{key: joined(key) for key in Launch.__dataclass_fields__}),
        air=Air(density_kg_m3=joined("density_kg_m3"),
                kinematic_viscosity_m2_s=joined("kinematic_viscosity_m2_s")),
    )
    ends = np.cumsum([len(group["ball_speed_mps"]) for group in groups])[:-1]
    for key in ("carry_m", "side_m", "apex_m", "landing_angle_deg", "flight_time_s"):
        for group, part in zip(groups, np.split(np.asarray(getattr(landing, key)), ends), strict=True):
            group[key] = part


def calls_of(balls: dict) -> list[dict]:
    """Return what a coach would call for each ball: start, curve, contact."""
    out = []
    for start, side, carry, contact in zip(
        balls["launch_direction_deg"], balls["side_m"], balls["carry_m"], balls["contact"], strict=True
    ):
        curve = (side - carry * np.sin(np.radians(start))) / max(carry, 1.0)
        out.append({
            "called_start": int(np.sign(start)) if abs(start) > 1.5 else 0,
            "called_curve": int(np.sign(curve)) * (2 if abs(curve) > 0.07 else 1) if abs(curve) > 0.02 else 0,
            "contact": contact,
        })
    return out


def _contacts(mishit: np.ndarray, up: np.ndarray, across: np.ndarray) -> list[str]:
    words = []
    for bad, high, heel in zip(mishit, up, across, strict=True):
        if bad:
            words.append("thin" if high < 0 else "fat")
        elif heel > 26:
            words.append("heel")
        elif heel < -26:
            words.append("toe")
        else:
            words.append("clean")
    return words

