"""What if: the shape and carry another delivery would give. For explaining, always an estimate."""

from dataclasses import dataclass

import numpy as np

from metrics.flight.impact import Delivery, d_plane, strike
from metrics.flight.infer import start_from_face_and_path
from metrics.flight.reference import REFERENCE
from metrics.flight.shape import STANDARD_LIMITS, Limits, Shape, shape_of
from metrics.flight.trajectory import fly
from metrics.flight.types import Air, Ball, Landing, Launch, Values

LABEL = "Estimate"
"""Goes beside every number of this module on a screen: nothing of it was measured."""

_MODEL_BALL = Ball()


@dataclass(frozen=True, kw_only=True)
class Estimate:
    """One delivery's estimated flight; numbers, not arrays."""

    delivery: Delivery
    launch: Launch
    landing: Landing
    shape: Shape
    label: str = LABEL


def estimate(
    *, delivery: Delivery, category: str, air: Air | None = None, ball: Ball = _MODEL_BALL,
    limits: Limits = STANDARD_LIMITS,
) -> Estimate:
    """Return the flight of a centred strike: rigid ball and face, start by the measured share, axis by D-plane.

    Numbers, player-relative; the air is the reference air if not given. Ball speed ±3 % for drivers and ±5 %
    for irons, spin ±20 % or worse, carry ±10 % and more. NaN gives NaN. Raises ``KeyError`` for a club without a
    full flight. Source: see ``metrics.flight.impact`` and ``metrics.flight.infer``.
    """
    launch = _launch_of(delivery, category)
    return _flown(delivery, launch, air or REFERENCE.air, ball, limits)


def what_if(
    *, measured: Launch, now: Delivery, then: Delivery, category: str, air: Air | None = None,
    ball: Ball = _MODEL_BALL, limits: Limits = STANDARD_LIMITS,
) -> tuple[Estimate, Estimate]:
    """Return the flight of the measured mean launch, and what it would become with another delivery.

    The strike model gives only the change: ball speed and spin by ratio, launch, start and axis by
    difference, so most of what is wrong with it drops out. Spin stays at or above zero. Numbers; missing
    axis or start (NaN) count as what the model says for ``now``. Source and error as for ``estimate``.
    """
    before, after = _launch_of(now, category), _launch_of(then, category)
    base = Launch(
        ball_speed_mps=measured.ball_speed_mps, launch_angle_deg=measured.launch_angle_deg,
        launch_direction_deg=_or(measured.launch_direction_deg, before.launch_direction_deg),
        spin_rpm=_or(measured.spin_rpm, before.spin_rpm),
        spin_axis_deg=_or(measured.spin_axis_deg, before.spin_axis_deg),
    )
    changed = Launch(
        ball_speed_mps=base.ball_speed_mps * after.ball_speed_mps / before.ball_speed_mps,
        launch_angle_deg=base.launch_angle_deg + after.launch_angle_deg - before.launch_angle_deg,
        launch_direction_deg=base.launch_direction_deg + after.launch_direction_deg - before.launch_direction_deg,
        spin_rpm=base.spin_rpm * after.spin_rpm / before.spin_rpm,
        spin_axis_deg=base.spin_axis_deg + after.spin_axis_deg - before.spin_axis_deg,
    )
    day = air or REFERENCE.air
    return _flown(now, base, day, ball, limits), _flown(then, changed, day, ball, limits)


def _launch_of(delivery: Delivery, category: str) -> Launch:
    rigid = strike(delivery=delivery, category=category)
    plane = d_plane(
        club_path_deg=delivery.club_path_deg, face_angle_deg=delivery.face_angle_deg,
        attack_angle_deg=delivery.attack_angle_deg, dynamic_loft_deg=delivery.dynamic_loft_deg, category=category,
    )
    return Launch(
        ball_speed_mps=rigid.ball_speed_mps, launch_angle_deg=rigid.launch_angle_deg, spin_rpm=rigid.spin_rpm,
        launch_direction_deg=start_from_face_and_path(
            face_angle_deg=delivery.face_angle_deg, club_path_deg=delivery.club_path_deg, category=category
        ),
        spin_axis_deg=plane.spin_axis_deg,
    )


def _flown(delivery: Delivery, launch: Launch, air: Air, ball: Ball, limits: Limits) -> Estimate:
    landing = fly(launch=launch, air=air, ball=ball)
    shape = shape_of(
        launch_direction_deg=float(launch.launch_direction_deg), curve_m=float(landing.curve_m),
        carry_m=float(landing.carry_m), limits=limits, inferred=True,
    )
    return Estimate(delivery=delivery, launch=launch, landing=landing, shape=shape)


def _or(value: Values, fallback: Values) -> float:
    return float(fallback) if np.isnan(value) else float(value)
