"""One true fault a pattern, in three severities: at the watch value, half way, and at the strong value."""

from collections.abc import Callable
from dataclasses import replace
from itertools import repeat

import numpy as np

from metrics.levels import Level
from metrics.rules.types import AidPair, BallCall, BlockEvidence, ClubStart, SetupChange
from tests.metrics.rules.players import DAY, SPEED, Player, block

Maker = Callable[[float, Level, np.random.Generator], BlockEvidence]
SEVERITIES = {"watch": 0.0, "half way": 0.5, "strong": 1.0}
BALLS = 12
PHOTO = 1.5
"""SD of an alignment read from a photo or a stick, degrees."""


def between(watch: float, strong: float, s: float) -> float:
    """Return the true value at severity s (0 watch .. 1 strong)."""
    return watch + (strong - watch) * s


def evidence(player: Player, rng: np.random.Generator, *, n: int = BALLS, **more: object) -> BlockEvidence:
    """Return a block of this player with every column a device gives, and contact called."""
    shots, calls = block(player, n, rng)
    more.setdefault("calls", calls)
    return BlockEvidence(club_category=player.club, level=player.level, shots=shots, **more)  # type: ignore[arg-type]


def _plain(club: str, **truth: tuple[float, float] | float) -> Maker:
    """A fault that is one or more delivery numbers: a pair runs from watch to strong, a number stays."""
    def make(s: float, level: Level, rng: np.random.Generator) -> BlockEvidence:
        values = {k: between(*v, s) if isinstance(v, tuple) else v for k, v in truth.items()}
        return evidence(Player(club=club, level=level, **values), rng)  # type: ignore[arg-type]
    return make


def _mishits(club: str, contact: str, watch: float, strong: float, **truth: float) -> Maker:
    def make(s: float, level: Level, rng: np.random.Generator) -> BlockEvidence:
        player = Player(club=club, level=level, mishits={contact: between(watch, strong, s)}, **truth)  # type: ignore[arg-type]
        usual = {"launch_angle_deg": 17.0} if club in ("mid_iron", "short_iron") else {}
        return evidence(player, rng, own_medians=usual)
    return make


def _spread(club: str, n: int = BALLS, **scales: tuple[float, float]) -> Maker:
    def make(s: float, level: Level, rng: np.random.Generator) -> BlockEvidence:
        spread = {k: between(*v, s) for k, v in scales.items()}
        return evidence(Player(club=club, level=level, spread=spread), rng, n=n)
    return make


def _two_way(s: float, level: Level, rng: np.random.Generator) -> BlockEvidence:
    size = between(3.5, 6, s)
    player = Player(level=level, path=size, face_to_path=-0.4 * size, spread={"face_angle_deg": between(1.6, 2.4, s)})
    return evidence(player, rng)


def _aims(sign: float) -> Maker:
    def make(s: float, level: Level, rng: np.random.Generator) -> BlockEvidence:
        aim = sign * between(4, 7, s)
        player = Player(level=level, path=0.8 * aim, face_to_path=0.0)
        return evidence(player, rng, setup={"feet_deg": aim + rng.normal(0, PHOTO)})
    return make


def _shoulders(s: float, level: Level, rng: np.random.Generator) -> BlockEvidence:
    off = between(-5, -9, s)
    player = Player(level=level, path=0.7 * off + 1)
    setup = {"feet_deg": rng.normal(0, PHOTO), "shoulders_deg": off + rng.normal(0, PHOTO)}
    before, _ = block(Player(level=level, path=0), BALLS, rng)
    change = SetupChange(checkpoint="ball_position_cm", before=4, after=0, shots_before=before)
    return evidence(player, rng, setup=setup, change=change if rng.random() < 0.5 else None)


def _smash(s: float, level: Level, rng: np.random.Generator) -> BlockEvidence:
    """Speed lost all over the face: no single spot, but a wide map."""
    return evidence(Player(level=level, smash_share=between(1.40, 1.35, s) / 1.45), rng)


def _weak_high(s: float, level: Level, rng: np.random.Generator) -> BlockEvidence:
    loft = between(6.5, 10, s)
    player = Player(club="mid_iron", level=level, attack=0.5, loft_added=loft, smash_share=0.97)
    return evidence(player, rng, own_medians={"launch_angle_deg": 17.0, "smash_factor": 1.36})


def _under_speed(s: float, level: Level, rng: np.random.Generator) -> BlockEvidence:
    share = between(95, 90, s) / 100
    return evidence(Player(level=level, speed_share=share), rng, effort_full=True,
                    own_medians={"club_speed_mps": SPEED["driver"]})


def _aid_dependent(s: float, level: Level, rng: np.random.Generator) -> BlockEvidence:
    """Both blocks are of one visit, so they share the day."""
    today = float(rng.normal(0, DAY * 1.8))
    with_aid, _ = block(Player(level=level, path=3 + today, face_to_path=-1.2, day=0), BALLS, rng)
    player = Player(level=level, path=4 + between(1, 2, s) + today, face_to_path=-1.2, day=0)
    own = evidence(player, rng, intent="draw")
    return replace(own, pair=AidPair(with_aid=with_aid, no_aid=own.shots))


def _drift(s: float, level: Level, rng: np.random.Generator) -> BlockEvidence:
    base = evidence(Player(level=level), rng, n=24)
    slope = between(3, 6, s) * np.linspace(-0.5, 0.5, 24) * 1.7
    shots = {**base.shots, "club_path_deg": base.shots["club_path_deg"] + slope}
    shots["face_angle_deg"] = base.shots["face_angle_deg"] + slope
    return replace(base, shots=shots)


def _wedge(s: float, level: Level, rng: np.random.Generator) -> BlockEvidence:
    carries = 45 * (1 + rng.normal(0, 0.02) + rng.normal(0, between(0.12, 0.17, s), 15))
    return BlockEvidence(club_category="pitch", level=level, shots={"carry_m": carries}, target_m=45)


def _called(club: str, watch: float, strong: float, bad: BallCall, good: BallCall) -> Maker:
    def make(s: float, level: Level, rng: np.random.Generator) -> BlockEvidence:
        share = between(watch, strong, s)
        calls = tuple(bad if rng.random() < share else good for _ in repeat(None, BALLS))
        return BlockEvidence(club_category=club, level=level, calls=calls)
    return make


def _putts(bias: tuple[float, float] = (0, 0), sd: tuple[float, float] = (0.6, 0.6), n: int = BALLS) -> Maker:
    def make(s: float, level: Level, rng: np.random.Generator) -> BlockEvidence:
        starts = between(*bias, s) + rng.normal(0, 0.2) + rng.normal(0, between(*sd, s), n)
        return BlockEvidence(club_category="putter", level=level, shots={"launch_direction_deg": starts})
    return make


def _fit(s: float, level: Level, rng: np.random.Generator) -> BlockEvidence:
    lie = between(2.5, 4.5, s)
    lofts = (24, 34, 46)
    starts = [lie * np.tan(np.radians(loft)) + rng.normal(0, 0.4) + rng.normal(0, 2.0, BALLS) for loft in lofts]
    clubs = tuple(ClubStart(loft_deg=loft, mean_deg=float(seen.mean()), sd_deg=float(seen.std(ddof=1)), n=BALLS)
                  for loft, seen in zip(lofts, starts, strict=True))
    return evidence(Player(club="mid_iron", level=level), rng, club_starts=clubs)


FAULTS: dict[str, Maker] = {
    "over_draw": _plain("driver", path=(4.0, 6.0), face_to_path=-3.0),
    "push_block": _plain("driver", path=(3.2, 5.0), face_to_path=0.7),
    "two_way_miss": _two_way,
    "slice": _plain("driver", path=(-3.0, -5.0), face_to_path=5.0),
    "pull": _plain("mid_iron", path=(-3.2, -5.0), face_to_path=0.0),
    "pull_hook": _plain("mid_iron", path=-2.5, face_to_path=(-3.0, -5.0)),
    "face_scatter": _spread("mid_iron", face_angle_deg=(1.3, 2.0)),
    "aims_slice_side": _aims(1), "aims_hook_side": _aims(-1), "shoulders_vs_feet": _shoulders,
    "driver_steep": _plain("driver", attack=(-2.0, -4.0)),
    "sky_ball": _mishits("driver", "sky", 0.25, 0.45), "driver_low_top": _mishits("driver", "top", 0.25, 0.45),
    "driver_over_up": _plain("driver", attack=(6.0, 8.0)),
    "fat_iron": _mishits("mid_iron", "fat", 0.35, 0.55), "thin_top_iron": _mishits("mid_iron", "top", 0.35, 0.55),
    "weak_high_iron": _weak_high, "steep_iron": _plain("mid_iron", attack=(-6.0, -8.0)),
    "fairway_top": _mishits("fairway", "top", 0.35, 0.55), "heel_shank": _plain("mid_iron", heel=(12.0, 18.0)),
    "toe_strike": _plain("mid_iron", heel=(-12.0, -18.0)), "low_smash": _smash, "under_speed": _under_speed,
    "carry_scatter": _spread("mid_iron", club_speed_mps=(5.0, 9.0)),
    "high_spin_driver": _plain("driver", loft_added=(4.0, 7.0)),
    "aid_dependent": _aid_dependent, "session_drift": _drift, "wedge_distance": _wedge,
    "chip_contact": _called("chip", 0.35, 0.55, BallCall(contact="fat"), BallCall(contact="clean")),
    "bunker": _called("sand", 0.4, 0.65, BallCall(done=False), BallCall(done=True)),
    "putt_start_bias": _putts(bias=(0.8, 1.3)), "putt_scatter_speed": _putts(sd=(1.1, 1.6), n=20), "fit_flag": _fit,
}
"""Every pattern of the library -> how to draw a block of a player who truly has it."""
