"""One step of motion for many balls at once: forces, and the classic fourth-order Runge-Kutta step."""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from metrics.constants import BALL_MASS_KG, BALL_RADIUS_M, GRAVITY_MPS2
from metrics.flight.coefficients import Coefficients, drag_and_lift
from metrics.flight.types import Array

SPIN_DECAY = 2.0e-5
"""Spin loss d(spin)/dt = −2.0e-5 (ρ/1.2) |u| spin / r: US patent 6,186,002 (third-party copy), Smits & Smith
1994 (second-hand). The scaling with density is ours."""

_AREA_OVER_TWICE_MASS = np.pi * BALL_RADIUS_M**2 / (2 * BALL_MASS_KG)


@dataclass(frozen=True, kw_only=True)
class Flow:
    """What stays the same during the flight of each ball: its spin axis and the air around it.

    Rows are x (to the target), y (up), z (slice side); columns are balls.
    """

    axis: Array
    wind_mps: Array
    drag_per_m: Array
    lift_per_m: Array
    reynolds_per_mps: Array
    decay_per_m: Array
    gravity_mps2: float = GRAVITY_MPS2
    coefficients: Coefficients = drag_and_lift

    def only(self, keep: NDArray[np.bool_]) -> "Flow":
        """Return the flow of the balls still wanted."""
        return replace(
            self,
            axis=self.axis[:, keep],
            wind_mps=self.wind_mps[:, keep],
            drag_per_m=self.drag_per_m[keep],
            lift_per_m=self.lift_per_m[keep],
            reynolds_per_mps=self.reynolds_per_mps[keep],
            decay_per_m=self.decay_per_m[keep],
        )


def flow_around(
    *,
    axis: Array,
    wind_mps: Array,
    density_kg_m3: Array,
    kinematic_viscosity_m2_s: Array,
    drag_multiplier: Array,
    lift_multiplier: Array,
    coefficients: Coefficients = drag_and_lift,
    gravity_mps2: float = GRAVITY_MPS2,
) -> Flow:
    """Gather the constants of motion; ``axis`` and ``wind_mps`` are (3, balls), the rest (balls,)."""
    per_m = _AREA_OVER_TWICE_MASS * density_kg_m3
    return Flow(
        axis=axis,
        wind_mps=wind_mps,
        drag_per_m=per_m * drag_multiplier,
        lift_per_m=per_m * lift_multiplier,
        reynolds_per_mps=2 * BALL_RADIUS_M / kinematic_viscosity_m2_s,
        decay_per_m=SPIN_DECAY * density_kg_m3 / (1.2 * BALL_RADIUS_M),
        gravity_mps2=gravity_mps2,
        coefficients=coefficients,
    )


def rate_of_change(*, motion: Array, flow: Flow) -> Array:
    """Return d(motion)/dt for rows vx vy vz, spin [m/s, rad/s]; columns are balls.

    a = −k CD |u| u + k CL |u| (axis × u) − g, with u the velocity through the air and k = ρ A / 2m. Where the
    ball is does not matter, which is why the position is no part of it.
    """
    u, spin = motion[:3] - flow.wind_mps, motion[3]
    ux, uy, uz = u
    ax, ay, az = flow.axis
    speed = np.sqrt(ux * ux + uy * uy + uz * uz)
    # A ball standing still in the air has no direction of lift; the floor only keeps 0/0 out.
    spin_ratio = BALL_RADIUS_M * spin / np.maximum(speed, 1e-9)
    drag, lift = flow.coefficients(spin_ratio=spin_ratio, reynolds=speed * flow.reynolds_per_mps)
    drag = drag * flow.drag_per_m * speed
    lift = lift * flow.lift_per_m * speed
    change = np.empty_like(motion)
    change[0] = lift * (ay * uz - az * uy) - drag * ux
    change[1] = lift * (az * ux - ax * uz) - drag * uy - flow.gravity_mps2
    change[2] = lift * (ax * uy - ay * ux) - drag * uz
    change[3] = -flow.decay_per_m * speed * spin
    return change


def step(*, state: Array, flow: Flow, step_s: float | Array) -> Array:
    """Advance a state of rows x y z, vx vy vz, spin by one Runge-Kutta step.

    ``step_s`` seconds is the same for all balls or one for each. The classic fourth-order step; since the
    rate of the position is the velocity itself, its four stages collapse into the last line but two.
    """
    half = 0.5 * step_s
    motion = state[3:]
    first = rate_of_change(motion=motion, flow=flow)
    second = rate_of_change(motion=motion + half * first, flow=flow)
    third = rate_of_change(motion=motion + half * second, flow=flow)
    fourth = rate_of_change(motion=motion + step_s * third, flow=flow)
    middle = second + third
    after = np.empty_like(state)
    after[:3] = state[:3] + step_s * (motion[:3] + (step_s / 6) * (first[:3] + middle[:3]))
    after[3:] = motion + (step_s / 6) * (first + 2 * middle + fourth)
    return after
