"""The strike: club and face in three dimensions, and what the ball does on leaving.

The D-plane holds the direction of the club head and the normal of the face; the ball starts in it and its
spin axis stands at right angles to it.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from metrics.constants import BALL_INERTIA_SHARE, BALL_MASS_KG, BALL_RADIUS_M
from metrics.flight.families import CLUBS
from metrics.flight.launching import direction_of, tilted_axis
from metrics.flight.types import Array, Launch, Values

DRIVER_RESTITUTION = 0.83
"""The limit of 0.822 with its tolerance of 0.008, which modern drivers reach."""

SMASH_LIMITS = (0.60, 1.53)
"""A smash factor outside is flagged, never rejected; 1.502 is what a 210 g head at the limit can give."""


@dataclass(frozen=True, kw_only=True)
class Delivery:
    """Club head and face at impact, player-relative: path + in-to-out, face + open, attack + upward."""

    club_speed_mps: Values
    club_path_deg: Values
    face_angle_deg: Values
    attack_angle_deg: Values
    dynamic_loft_deg: Values


@dataclass(frozen=True, kw_only=True)
class DPlane:
    """What the geometry of the strike says about the start and the axis, player-relative."""

    spin_loft_deg: Values
    launch_direction_deg: Values
    spin_axis_deg: Values


def spin_loft_deg(
    *, club_path_deg: Values, face_angle_deg: Values, attack_angle_deg: Values, dynamic_loft_deg: Values
) -> Values:
    """Return the angle between the direction of the head and the normal of the face [°].

    Any shape; NaN stays NaN. With path equal to face it is dynamic loft minus attack. Source: geometry.
    """
    head, normal = _head_and_normal(club_path_deg, face_angle_deg, attack_angle_deg, dynamic_loft_deg)
    return _number(_angle_between(head, normal))


def strike(*, delivery: Delivery, category: str, restitution: float | None = None,
           head_mass_kg: float | None = None) -> Launch:
    """Return the launch of a rigid, centred strike: an estimate, never to be stored as measured.

    vₙ = u cos σ (1 + e) / (1 + m/M) along the face normal; vₜ = u sin σ / (1 + m/M + 1/0.4) along the tangential
    part of the head's velocity; spin = vₜ / (0.4 r) about head × normal; σ is the spin loft. e is 0.83 for
    woods, for the rest 0.85 − 0.0028 (u cos σ − 20) within 0.70..0.85.

    Any shape; NaN stays NaN; a spin loft of zero gives no spin and the axis tilt 0. Ball speed ±3 % for
    drivers and ±5 % for irons, spin ±20 % or worse, the start direction follows the face more than measured
    balls do (see ``metrics.flight.infer``). Raises ``KeyError`` for a club without a full flight.
    Source: momentum, restitution and a uniform sphere rolling at separation; Penner 2001 second-hand.
    """
    club = CLUBS[category]
    speed = np.asarray(delivery.club_speed_mps, dtype=float)
    head, normal = _head_and_normal(
        delivery.club_path_deg + 0 * speed, delivery.face_angle_deg, delivery.attack_angle_deg,
        delivery.dynamic_loft_deg,
    )
    into_face = np.sum(head * normal, axis=0)
    sliding = head - into_face * normal
    bounce = _restitution(speed * into_face, wood=club.wood) if restitution is None else restitution
    ratio = BALL_MASS_KG / (club.head_mass_kg if head_mass_kg is None else head_mass_kg)
    along = speed * into_face * (1 + bounce) / (1 + ratio)
    across = speed / (1 + ratio + 1 / BALL_INERTIA_SHARE)
    velocity = along * normal + across * sliding
    spin_rad_s = across * np.linalg.norm(sliding, axis=0) / (BALL_INERTIA_SHARE * BALL_RADIUS_M)
    elevation, azimuth = _angles(velocity)
    return Launch(
        ball_speed_mps=_number(np.linalg.norm(velocity, axis=0)),
        launch_angle_deg=elevation,
        launch_direction_deg=azimuth,
        spin_rpm=_number(spin_rad_s * 30 / np.pi),
        spin_axis_deg=_tilt(np.cross(head, normal, axis=0), elevation, azimuth),
    )


def d_plane(
    *,
    club_path_deg: Values,
    face_angle_deg: Values,
    attack_angle_deg: Values,
    dynamic_loft_deg: Values,
    category: str,
) -> DPlane:
    """Return spin loft, start direction and axis tilt of a centred strike, by geometry alone.

    The ball starts in the plane of head direction and face normal, at the measured share of the way from
    the first to the second; the axis is head × normal, its tilt measured at right angles to that start.
    Any shape; NaN stays NaN. tan(axis) = tan(face − path) / tan(spin loft) agrees within 1.6° over the bag and
    serves only as a check. Not valid off centre with woods. Raises ``KeyError`` for a club without a full
    flight. Source: geometry (D-plane of Jorgensen, the book was not read); shares of Wood et al. 2018.
    """
    head, normal = _head_and_normal(club_path_deg, face_angle_deg, attack_angle_deg, dynamic_loft_deg)
    spin_loft = _angle_between(head, normal)
    share, angle = CLUBS[category].face_share, np.radians(spin_loft)
    elevation, azimuth = _angles(np.sin(share * angle) * normal + np.sin((1 - share) * angle) * head)
    axis = np.cross(head, normal, axis=0)
    # A face looking exactly along the path spins nothing: the plane is lost and so are start and axis.
    lost = angle < 1e-9
    return DPlane(
        spin_loft_deg=_number(spin_loft),
        launch_direction_deg=_number(np.where(lost, face_angle_deg, azimuth)),
        spin_axis_deg=_number(np.where(lost, 0.0, _tilt(axis, elevation, azimuth))),
    )


def centre_strike_hint_deg(*, measured_axis_deg: Values, d_plane_axis_deg: Values) -> Values:
    """Return measured axis minus D-plane axis [°]: near zero for a centred strike, a hint and not a fault.

    With woods + suggests a strike towards the heel (gear effect), with irons it is mostly measuring error.
    Common practice, no source.
    """
    return _number(np.asarray(measured_axis_deg, dtype=float) - np.asarray(d_plane_axis_deg, dtype=float))


def smash_is_doubtful(*, club_speed_mps: Values, ball_speed_mps: Values) -> NDArray[np.bool_]:
    """Say where ball speed over club speed lies outside 0.60..1.53: look at it, do not delete it.

    False where either is missing (NaN). Source: momentum and the restitution limit; the lower limit is ours.
    """
    smash = np.asarray(ball_speed_mps, dtype=float) / np.asarray(club_speed_mps, dtype=float)
    return np.asarray((smash < SMASH_LIMITS[0]) | (smash > SMASH_LIMITS[1]))


def _head_and_normal(path: Values, face: Values, attack: Values, loft: Values) -> tuple[Array, Array]:
    """Unit vectors of the head's direction and of the face's normal, components first."""
    path, face, attack, loft = np.broadcast_arrays(path, face, attack, loft)
    return (
        direction_of(elevation_deg=attack, azimuth_deg=path),
        direction_of(elevation_deg=loft, azimuth_deg=face),
    )


def _restitution(normal_speed_mps: Array, *, wood: bool) -> Values:
    if wood:
        return DRIVER_RESTITUTION
    # Chou et al. 1994, second-hand: solid balls, 0.85 at 20 m/s and 0.78 at 45 m/s.
    return np.clip(0.85 - 0.0028 * (normal_speed_mps - 20), 0.70, 0.85)


def _number(values: Array) -> Values:
    """Turn an array without axes into a plain number, so that numbers in give numbers out."""
    return float(values) if np.ndim(values) == 0 else values


def _angle_between(first: Array, second: Array) -> Array:
    across = np.linalg.norm(np.cross(first, second, axis=0), axis=0)
    return np.asarray(np.degrees(np.arctan2(across, np.sum(first * second, axis=0))))


def _angles(velocity: Array) -> tuple[Values, Values]:
    x, y, z = velocity
    return _number(np.degrees(np.arctan2(y, np.hypot(x, z)))), _number(np.degrees(np.arctan2(z, x)))


def _tilt(axis: Array, elevation_deg: Values, azimuth_deg: Values) -> Values:
    """The tilt of an axis against pure backspin, + to the slice side."""
    level = tilted_axis(elevation_deg=elevation_deg, azimuth_deg=azimuth_deg, tilt_deg=0.0)
    tilted = tilted_axis(elevation_deg=elevation_deg, azimuth_deg=azimuth_deg, tilt_deg=90.0)
    return _number(np.degrees(np.arctan2(np.sum(axis * tilted, axis=0), np.sum(axis * level, axis=0))))
