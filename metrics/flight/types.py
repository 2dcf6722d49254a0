"""What goes into a flight and what comes out. Every field is one number or an array; they broadcast."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Values = float | Array


@dataclass(frozen=True, kw_only=True)
class Launch:
    """The ball as it leaves the face, player-relative: + is the slice side.

    ``spin_axis_deg`` is the tilt of the spin axis in the plane at right angles to the launch velocity,
    + curves to the slice side.
    """

    ball_speed_mps: Values
    launch_angle_deg: Values
    spin_rpm: Values
    launch_direction_deg: Values = 0.0
    spin_axis_deg: Values = 0.0


@dataclass(frozen=True, kw_only=True)
class Air:
    """The air a ball flies through: density, viscosity and a uniform level wind.

    ``wind_along_mps`` + is a tail wind; ``wind_slice_mps`` + blows towards the player's slice side, so a
    left-hander's cross wind is turned round at the door together with everything else.
    """

    density_kg_m3: Values
    kinematic_viscosity_m2_s: Values
    wind_along_mps: Values = 0.0
    wind_slice_mps: Values = 0.0


@dataclass(frozen=True, kw_only=True)
class Ball:
    """How one ball or one student's balls differ from the model ball; 1 is the model itself."""

    drag_multiplier: Values = 1.0
    lift_multiplier: Values = 1.0


@dataclass(frozen=True, kw_only=True)
class Landing:
    """Where and how a ball comes down. Carry is the level distance to the landing point, without roll.

    ``side_m`` is the offset from the target line and ``curve_m`` the offset from the start line, + on the
    slice side; ``apex_m`` is above the launch point; ``landing_angle_deg`` is positive downwards.
    """

    downrange_m: Values
    side_m: Values
    carry_m: Values
    curve_m: Values
    apex_m: Values
    flight_time_s: Values
    landing_angle_deg: Values
    landing_speed_mps: Values
    landing_spin_rpm: Values


@dataclass(frozen=True, kw_only=True)
class Curve:
    """A flight as points for a picture; each array has the points first, then the shape of the launch."""

    time_s: Values
    downrange_m: Values
    height_m: Values
    side_m: Values
