"""Outside values from fixtures/reference, and a second, adaptive flight solver written apart from the program."""

import csv
import math
from pathlib import Path

import numpy as np
from scipy.integrate import solve_ivp

from metrics.flight.types import Air, Launch

REFERENCE = Path(__file__).parents[3] / "fixtures" / "reference"
YARD = 0.9144
MPH = 0.44704


def rows(name: str) -> list[dict[str, str]]:
    """The rows of a reference table, without the comment lines that state its source."""
    lines = (REFERENCE / name).read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def drag_lift(s: float, reynolds: float) -> tuple[float, float]:
    """The ball model written once more, in plain numbers."""
    r5 = min(max(reynolds / 1e5, 0.8), 2.0)
    low, over = min(s, 0.22), max(s - 0.22, 0.0)
    drag = min(0.55, 0.2028 - 0.2159 * low + 2.8466 * low**2 + 0.0165 * r5 + 0.39 * over)
    high = max(low, 0.04)
    lift = min(0.46, 0.0860 + 0.6463 * high + 1.4789 * high**2 - 0.0122 / r5**2 + 0.38 * over)
    return drag, lift * min(1.0, s / 0.04)


def adaptive_flight(*, speed, angle, direction, spin_rpm, tilt, density, viscosity, along=0.0, slice_=0.0):
    """Carry, side, apex [m], time [s] by scipy's DOP853 at rtol 1e-10 with event location."""
    mass, radius, g = 0.04593, 0.021335, 9.80665
    el, az, ti = math.radians(angle), math.radians(direction), math.radians(tilt)
    fx, fy, fz = math.cos(el) * math.cos(az), math.sin(el), math.cos(el) * math.sin(az)
    # level = (-sin az, 0, cos az) and up = level x forward span the plane in which the axis is tilted.
    lx, lz = -math.sin(az), math.cos(az)
    ax = math.cos(ti) * lx + math.sin(ti) * lz * fy
    ay = -math.sin(ti) * (lz * fx - lx * fz)
    az_ = math.cos(ti) * lz - math.sin(ti) * lx * fy
    k = density * math.pi * radius**2 / (2 * mass)
    loss_per_m = 2e-5 * (density / 1.2) / radius

    def motion(_, state):
        _, _, _, vx, vy, vz, spin = state.tolist()
        ux, uz = vx - along, vz - slice_
        speed_now = math.sqrt(ux * ux + vy * vy + uz * uz)
        drag, lift = drag_lift(radius * spin / speed_now, 2 * radius * speed_now / viscosity)
        d, c = k * speed_now * drag, k * speed_now * lift
        return (
            vx, vy, vz,
            c * (ay * uz - az_ * vy) - d * ux,
            c * (az_ * ux - ax * uz) - d * vy - g,
            c * (ax * vy - ay * ux) - d * uz,
            -loss_per_m * speed_now * spin,
        )

    def ground(_, state):
        return state[1]

    def top(_, state):
        return state[4]

    ground.terminal, ground.direction, top.direction = True, -1, -1
    begin = [0, 0, 0, speed * fx, speed * fy, speed * fz, spin_rpm * math.pi / 30]
    path = solve_ivp(motion, (0, 30), begin, method="DOP853", rtol=1e-10, atol=1e-10, events=(ground, top))
    landing = path.y_events[0][0]
    return math.hypot(landing[0], landing[2]), landing[2], path.y_events[1][0][1], path.t_events[0][0]


def random_shots(*, count: int, seed: int) -> tuple[Launch, Air]:
    """Shots over the whole range of the model, in thin and thick air and in wind up to 12 m/s."""
    rng = np.random.default_rng(seed)
    wind, bearing = rng.uniform(0, 12, count), rng.uniform(0, 2 * np.pi, count)
    launch = Launch(
        ball_speed_mps=rng.uniform(18, 84.9, count), launch_angle_deg=rng.uniform(8, 50, count),
        launch_direction_deg=rng.uniform(-6, 6, count), spin_rpm=rng.uniform(1000, 12000, count),
        spin_axis_deg=rng.uniform(-25, 25, count),
    )
    air = Air(
        density_kg_m3=rng.uniform(0.90, 1.35, count), kinematic_viscosity_m2_s=rng.uniform(1.35e-5, 1.85e-5, count),
        wind_along_mps=wind * np.cos(bearing), wind_slice_mps=wind * np.sin(bearing),
    )
    return launch, air


def adaptive_one(launch: Launch, air: Air, i: int):
    """The i-th of many shots by the adaptive solver."""
    return adaptive_flight(
        speed=launch.ball_speed_mps[i], angle=launch.launch_angle_deg[i], direction=launch.launch_direction_deg[i],
        spin_rpm=launch.spin_rpm[i], tilt=launch.spin_axis_deg[i], density=air.density_kg_m3[i],
        viscosity=air.kinematic_viscosity_m2_s[i], along=air.wind_along_mps[i], slice_=air.wind_slice_mps[i],
    )
