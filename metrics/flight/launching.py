"""From the words of a launch to the state and the constants of motion."""

import numpy as np
from numpy.typing import NDArray

from metrics.flight.coefficients import Coefficients, drag_and_lift
from metrics.flight.motion import Flow, flow_around
from metrics.flight.types import Air, Array, Ball, Launch, Values

_RAD_S_PER_RPM = np.pi / 30

Columns = dict[str, Array]
"""Every input of a flight by its field name, one entry for each ball."""


def direction_of(*, elevation_deg: Values, azimuth_deg: Values) -> Array:
    """Return unit vectors (x to the target, y up, z slice side) with the components as first axis."""
    elevation, azimuth = np.broadcast_arrays(np.radians(elevation_deg), np.radians(azimuth_deg))
    return np.array([
        np.cos(elevation) * np.cos(azimuth), np.sin(elevation), np.cos(elevation) * np.sin(azimuth)
    ])


def tilted_axis(*, elevation_deg: Values, azimuth_deg: Values, tilt_deg: Values) -> Array:
    """Return the unit spin axis of a ball launched so; tilt 0 is pure backspin, + curves to the slice side.

    The axis is at right angles to the launch velocity and the tilt is measured in that plane.
    """
    forward = direction_of(elevation_deg=elevation_deg, azimuth_deg=azimuth_deg)
    level = direction_of(elevation_deg=0.0 * np.asarray(elevation_deg), azimuth_deg=np.asarray(azimuth_deg) + 90)
    upward = np.cross(level, forward, axis=0)
    tilt = np.radians(tilt_deg)
    return np.asarray(np.cos(tilt) * level - np.sin(tilt) * upward)


def columns_of(*, launch: Launch, air: Air, ball: Ball, **more: Values) -> tuple[tuple[int, ...], Columns]:
    """Broadcast all inputs of a flight; return their common shape and each of them as a flat view."""
    fields = {**vars(launch), **vars(air), **vars(ball), **more}
    shape = np.broadcast_shapes(*(np.shape(value) for value in fields.values()))
    flat = {
        name: np.broadcast_to(np.asarray(value, dtype=float), shape).reshape(-1)
        for name, value in fields.items()
    }
    return shape, flat


def possible(*, columns: Columns) -> NDArray[np.bool_]:
    """Say which balls can be flown at all: finite inputs, moving, no negative spin, density or viscosity."""
    finite = np.all([np.isfinite(column) for column in columns.values()], axis=0)
    return np.asarray(
        finite
        & (columns["ball_speed_mps"] > 0)
        & (columns["spin_rpm"] >= 0)
        & (columns["density_kg_m3"] >= 0)
        & (columns["kinematic_viscosity_m2_s"] > 0)
    )


def start(*, columns: Columns, coefficients: Coefficients = drag_and_lift) -> tuple[Array, Flow]:
    """Return the state at launch, rows x y z, vx vy vz, spin [m, m/s, rad/s], and the constants of motion."""
    elevation, azimuth = columns["launch_angle_deg"], columns["launch_direction_deg"]
    state = np.zeros((7, elevation.size))
    state[3:6] = columns["ball_speed_mps"] * direction_of(elevation_deg=elevation, azimuth_deg=azimuth)
    state[6] = columns["spin_rpm"] * _RAD_S_PER_RPM
    along, across = columns["wind_along_mps"], columns["wind_slice_mps"]
    flow = flow_around(
        axis=tilted_axis(elevation_deg=elevation, azimuth_deg=azimuth, tilt_deg=columns["spin_axis_deg"]),
        wind_mps=np.array([along, 0 * along, across]),
        density_kg_m3=columns["density_kg_m3"],
        kinematic_viscosity_m2_s=columns["kinematic_viscosity_m2_s"],
        drag_multiplier=columns["drag_multiplier"],
        lift_multiplier=columns["lift_multiplier"],
        coefficients=coefficients,
    )
    return state, flow
