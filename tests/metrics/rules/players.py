"""Invented players: one true way of striking each, balls drawn through the strike and the flight.

Shot-to-shot SDs are the level's, the day moves every mean by ``DAY`` shot SDs (both from memory, the same as
the program's own assumptions: these players test the rules, not nature). A strike r mm off the middle loses
ball speed by ``SPEED_LOSS`` r²; tops, fats, thins and skied balls change launch and speed by the amounts in
``_spoil``. All player-relative.
"""

from dataclasses import dataclass, field, replace

import numpy as np

from metrics.change.priors import sd_prior
from metrics.flight.air import air_at
from metrics.flight.families import CLUBS
from metrics.flight.impact import Delivery, d_plane, strike
from metrics.flight.trajectory import fly
from metrics.flight.types import Launch
from metrics.levels import Level
from metrics.rules.types import BallCall
from metrics.windows import find_window

DAY = 0.4
SPEED_LOSS = 0.00007
SPEED = {"driver": 42.0, "fairway": 40.0, "hybrid_long_iron": 38.5, "mid_iron": 36.0, "short_iron": 34.0,
         "wedge_full": 32.0, "pitch": 20.0}
MISHITS = {"index_1_5": 0.04, "index_6_12": 0.07, "index_13_20": 0.12, "index_21_36": 0.2}
LEVELS: tuple[Level, ...] = ("index_1_5", "index_6_12", "index_13_20")
AIR = air_at(temperature_c=20, pressure_hpa=1013.25, humidity_percent=50)


@dataclass(frozen=True, kw_only=True)
class Player:
    """What is true of a player with one club. ``spread`` multiplies the level's SDs by quantity."""

    club: str = "driver"
    level: Level = "index_6_12"
    path: float = 0.0
    face_to_path: float = 0.0
    attack: float | None = None
    loft_added: float = 0.0
    heel: float = 0.0
    high: float = 0.0
    speed_share: float = 1.0
    smash_share: float = 1.0
    low_point: float = 3.0
    day: float = DAY
    spread: dict[str, float] = field(default_factory=dict)
    mishits: dict[str, float] = field(default_factory=dict)


def at(player: Player, **changes: object) -> Player:
    """Return the player with something else true."""
    return replace(player, **changes)  # type: ignore[arg-type]


def block(player: Player, n: int, rng: np.random.Generator) -> tuple[dict[str, np.ndarray], tuple[BallCall, ...]]:
    """Return n balls as a device and a coach would record them: numbers, and the contact called."""
    contact = _contacts(player, n, rng)
    attack = player.attack
    if attack is None:
        window = find_window(quantity="attack_angle_deg", intent="straight", category=player.club)
        attack = window.centre if window else -3.0
    path = _draw(player, "club_path_deg", player.path, n, rng)
    face = _face(player, path, n, rng)
    heel = _draw(player, "strike_heel_toe_mm", player.heel, n, rng)
    high = _draw(player, "strike_high_low_mm", player.high, n, rng)
    delivery = Delivery(
        club_speed_mps=_draw(player, "club_speed_mps", SPEED[player.club] * player.speed_share, n, rng),
        club_path_deg=path, face_angle_deg=face,
        attack_angle_deg=_draw(player, "attack_angle_deg", attack, n, rng),
        dynamic_loft_deg=CLUBS[player.club].usual_dynamic_loft_deg + player.loft_added + rng.normal(0, 1, n))
    launch = _launched(player, delivery, heel, high, contact, rng)
    landing = fly(launch=launch, air=AIR)
    shots = {
        "club_speed_mps": delivery.club_speed_mps, "ball_speed_mps": launch.ball_speed_mps, "club_path_deg": path,
        "face_angle_deg": face, "attack_angle_deg": delivery.attack_angle_deg,
        "launch_angle_deg": launch.launch_angle_deg, "launch_direction_deg": launch.launch_direction_deg,
        "spin_rpm": launch.spin_rpm,
        "spin_loft_deg": delivery.dynamic_loft_deg - delivery.attack_angle_deg,
        "spin_axis_deg": launch.spin_axis_deg, "carry_m": landing.carry_m,
        "side_m": landing.side_m, "strike_heel_toe_mm": np.where(contact == "shank", 38.0, heel),
        "strike_high_low_mm": high + np.select([contact == k for k in ("sky", "thin", "top")], [16, -14, -20]),
        "low_point_cm": np.where(contact == "fat", -4.0, rng.normal(player.low_point, 2.0, n)),
    }
    return {k: np.asarray(v, dtype=float) for k, v in shots.items()}, tuple(BallCall(contact=c) for c in contact)


def _draw(player: Player, quantity: str, mean: float, n: int, rng: np.random.Generator) -> np.ndarray:
    prior = sd_prior(quantity=quantity, level=player.level, category=player.club)
    assert prior is not None
    # A shorter swing varies less in speed, in proportion.
    scale = SPEED[player.club] / SPEED["driver"] if quantity == "club_speed_mps" else 1.0
    sd = prior.value * player.spread.get(quantity, 1.0)
    return mean + scale * rng.normal(0, player.day * prior.value) + scale * rng.normal(0, sd, n)


def _face(player: Player, path: np.ndarray, n: int, rng: np.random.Generator) -> np.ndarray:
    """The face follows half of the path's wandering: so the level's SDs of path, face and their difference agree."""
    aim = player.path + player.face_to_path
    own = _draw(player, "face_angle_deg", aim, n, rng)
    prior, moving = (sd_prior(quantity=q, level=player.level) for q in ("face_angle_deg", "club_path_deg"))
    assert prior is not None and moving is not None
    rest = np.sqrt(1 - (0.5 * moving.value / prior.value) ** 2)
    return aim + 0.5 * (path - player.path) + rest * (own - aim)


def _contacts(player: Player, n: int, rng: np.random.Generator) -> np.ndarray:
    usual = MISHITS[player.level]
    shares = {"thin": usual / 2, "fat": usual / 2, **player.mishits}
    names = [*shares, "clean"]
    return rng.choice(names, size=n, p=[*shares.values(), 1 - sum(shares.values())])


def _launched(player: Player, delivery: Delivery, heel: np.ndarray, high: np.ndarray, contact: np.ndarray,
              rng: np.random.Generator) -> Launch:
    struck = strike(delivery=delivery, category=player.club)
    plane = d_plane(club_path_deg=delivery.club_path_deg, face_angle_deg=delivery.face_angle_deg,
                    attack_angle_deg=delivery.attack_angle_deg, dynamic_loft_deg=delivery.dynamic_loft_deg,
                    category=player.club)
    kept = player.smash_share * (1 - np.minimum(SPEED_LOSS * (heel**2 + high**2), 0.3)) / (1 - _usual_loss(player))
    speed, launch = _spoil(contact, struck.ball_speed_mps * kept, struck.launch_angle_deg, rng)
    return Launch(ball_speed_mps=speed, launch_angle_deg=launch, spin_rpm=struck.spin_rpm,
                  launch_direction_deg=plane.launch_direction_deg + rng.normal(0, 0.3, len(speed)),
                  spin_axis_deg=plane.spin_axis_deg)


def _usual_loss(player: Player) -> float:
    """What the level's usual strike costs on average: the club's usual smash already holds it."""
    priors = [sd_prior(quantity=q, level=player.level) for q in ("strike_heel_toe_mm", "strike_high_low_mm")]
    return SPEED_LOSS * sum(prior.value**2 for prior in priors if prior)


def _spoil(contact: np.ndarray, speed: np.ndarray, launch: np.ndarray,
           rng: np.random.Generator) -> tuple[np.ndarray, np.ndarray]:
    """What a mishit does to ball speed and launch; the sizes are guesses, large enough to be seen."""
    kinds = [contact == k for k in ("top", "thin", "fat", "sky", "shank")]
    share = np.select(kinds, [0.6, 0.85, 0.75, 0.8, 0.7], 1.0)
    loft = np.select(kinds, [0.15, 0.55, 0.9, 1.0, 0.8], 1.0) * launch + np.where(contact == "sky", 14.0, 0.0)
    return speed * share, loft + rng.normal(0, 0.5, len(loft))
