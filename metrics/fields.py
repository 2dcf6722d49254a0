"""The quantities a shot can carry: one registry for database, frames, import, JSON and screens.

Signs are player-relative everywhere inside the program: + is the slice side (right of the target for
a right-hander, left for a left-hander). ``mirrored`` marks the quantities whose sign turns round when
a file states them as "+ is right of target" and the player is left-handed.

Bounds are limits of what can physically or sensibly occur, for telling a mistyped or mis-matched
column from a shot; they reject nothing by themselves. Common practice, no source, unless a bound is
said to come from somewhere else.
"""

from dataclasses import dataclass
from typing import Literal

Dimension = Literal["speed", "angle", "rotation", "distance", "small_length", "low_point", "time", "ratio"]


@dataclass(frozen=True, kw_only=True)
class Field:
    """One quantity of a shot. ``unit`` is the stored unit; ``digits`` the decimals worth showing in it."""

    key: str
    label: str
    unit: str
    dimension: Dimension
    digits: int
    lower: float
    upper: float
    mirrored: bool = False
    survives_wind: bool = True
    plus_means: str = ""


_ALL = (
    Field(key="club_speed_mps", label="Club speed", unit="m/s", dimension="speed", digits=1,
          lower=1, upper=75),
    Field(key="ball_speed_mps", label="Ball speed", unit="m/s", dimension="speed", digits=1,
          lower=0.5, upper=105),
    Field(key="smash_factor", label="Smash factor", unit="", dimension="ratio", digits=2,
          lower=0.6, upper=1.8),
    Field(key="club_path_deg", label="Club path", unit="°", dimension="angle", digits=1,
          lower=-30, upper=30, mirrored=True, plus_means="in-to-out"),
    Field(key="face_angle_deg", label="Face to target", unit="°", dimension="angle", digits=1,
          lower=-40, upper=40, mirrored=True, plus_means="open"),
    Field(key="face_to_path_deg", label="Face to path", unit="°", dimension="angle", digits=1,
          lower=-40, upper=40, mirrored=True, plus_means="open to the path"),
    Field(key="attack_angle_deg", label="Attack angle", unit="°", dimension="angle", digits=1,
          lower=-20, upper=20, plus_means="upward"),
    Field(key="dynamic_loft_deg", label="Dynamic loft", unit="°", dimension="angle", digits=1,
          lower=-10, upper=80),
    Field(key="spin_loft_deg", label="Spin loft", unit="°", dimension="angle", digits=1,
          lower=0, upper=85),
    Field(key="launch_angle_deg", label="Launch angle", unit="°", dimension="angle", digits=1,
          lower=-15, upper=75, plus_means="upward"),
    Field(key="launch_direction_deg", label="Start direction", unit="°", dimension="angle", digits=1,
          lower=-45, upper=45, mirrored=True, plus_means="slice side"),
    Field(key="spin_rpm", label="Spin", unit="rpm", dimension="rotation", digits=0,
          lower=0, upper=16000),
    Field(key="spin_axis_deg", label="Spin axis", unit="°", dimension="angle", digits=1,
          lower=-90, upper=90, mirrored=True, plus_means="curves to the slice side"),
    Field(key="carry_m", label="Carry", unit="m", dimension="distance", digits=1,
          lower=0, upper=350, survives_wind=False),
    Field(key="side_m", label="Side", unit="m", dimension="distance", digits=1,
          lower=-150, upper=150, mirrored=True, survives_wind=False, plus_means="slice side"),
    Field(key="total_m", label="Total", unit="m", dimension="distance", digits=1,
          lower=0, upper=420, survives_wind=False),
    Field(key="apex_m", label="Apex", unit="m", dimension="distance", digits=1,
          lower=0, upper=75, survives_wind=False),
    Field(key="landing_angle_deg", label="Landing angle", unit="°", dimension="angle", digits=1,
          lower=0, upper=90, survives_wind=False),
    Field(key="flight_time_s", label="Flight time", unit="s", dimension="time", digits=1,
          lower=0, upper=12, survives_wind=False),
    Field(key="strike_heel_toe_mm", label="Strike heel to toe", unit="mm", dimension="small_length", digits=0,
          lower=-60, upper=60, plus_means="heel"),
    Field(key="strike_high_low_mm", label="Strike high to low", unit="mm", dimension="small_length", digits=0,
          lower=-50, upper=50, plus_means="high"),
    Field(key="low_point_cm", label="Low point", unit="cm", dimension="low_point", digits=1,
          lower=-40, upper=40, plus_means="ahead of the ball"),
)

FIELDS: dict[str, Field] = {field.key: field for field in _ALL}
"""Every quantity by its key, in the order in which screens and tables show them."""

MIRRORED: frozenset[str] = frozenset(field.key for field in _ALL if field.mirrored)
