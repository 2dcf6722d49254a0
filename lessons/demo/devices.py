"""What each device of the demo sees of a ball, and what is called where there is none."""

from dataclasses import dataclass

import numpy as np

_BALL = ("ball_speed_mps", "launch_angle_deg", "launch_direction_deg", "spin_rpm", "spin_axis_deg", "carry_m",
         "side_m")
_CLUB = ("club_speed_mps", "smash_factor", "club_path_deg", "attack_angle_deg")
_FACE = ("face_angle_deg", "face_to_path_deg", "dynamic_loft_deg", "strike_heel_toe_mm", "strike_high_low_mm")
_DIGITS = {"spin_rpm": 0, "ball_speed_mps": 2, "club_speed_mps": 2, "smash_factor": 3, "flight_time_s": 2}


@dataclass(frozen=True, kw_only=True)
class Device:
    """A device by the name coaches give it, the columns it fills, and how its carry comes about."""

    name: str
    columns: tuple[str, ...]
    carry_provenance: str = "measured"
    is_indoor_model: bool = False


DEVICES: dict[str, Device] = {
    "bay": Device(name="Bay unit, club and ball", columns=(
        *_BALL, *_CLUB, *_FACE, "apex_m", "landing_angle_deg", "flight_time_s")),
    "path": Device(name="Old bay unit, no face angle", columns=(*_BALL, *_CLUB, "apex_m")),
    "small": Device(name="Small unit, ball only", columns=_BALL),
    "studio": Device(name="Studio unit", columns=(*_BALL, *_CLUB, *_FACE), carry_provenance="computed",
                     is_indoor_model=True),
}
"""Key -> device; a student without one is called by eye, key ``eyes``."""


def seen_by(device: Device, balls: dict[str, np.ndarray], rng: np.random.Generator) -> dict[str, list[float | None]]:
    """Return the columns as this device writes them down: rounded, now and then with a gap."""
    count = len(balls["carry_m"])
    no_spin, no_face = rng.random(count) < 0.03, rng.random(count) < 0.015
    gaps = {"spin_rpm": no_spin, "spin_axis_deg": no_spin, "face_angle_deg": no_face, "face_to_path_deg": no_face}
    none = np.zeros(count, dtype=bool)
    return {
        key: [None if gap or not known else value for value, gap, known in zip(
            np.round(balls[key], _DIGITS.get(key, 1)).tolist(), gaps.get(key, none), np.isfinite(balls[key]),
            strict=True)]
        for key in device.columns
    }


def called(balls: dict[str, np.ndarray], *, by_eye: bool, contact: bool) -> dict[str, list]:
    """Return what a coach would call: start, curve and height by eye; the contact where it was heard."""
    start, side, carry = balls["launch_direction_deg"], balls["side_m"], np.maximum(balls["carry_m"], 1.0)
    curve = (side - carry * np.sin(np.radians(start))) / carry
    columns: dict[str, list] = {}
    if by_eye:
        columns["called_start"] = np.where(np.abs(start) > 1.5, np.sign(start), 0).astype(int).tolist()
        sizes = np.where(np.abs(curve) > 0.07, 2, 1) * np.where(np.abs(curve) > 0.02, np.sign(curve), 0)
        columns["called_curve"] = sizes.astype(int).tolist()
        usual = np.median(balls["apex_m"])
        high = balls["apex_m"] > 1.35 * usual
        columns["called_height"] = np.where(high, 1, np.where(balls["apex_m"] < 0.6 * usual, -1, 0)).tolist()
    if contact:
        columns["contact"] = [
            _contact(*ball) for ball in zip(
                balls["mishit"], balls["strike_high_low_mm"], balls["strike_heel_toe_mm"], strict=True)
        ]
    return columns


def _contact(mishit: bool, up: float, across: float) -> str:
    if mishit:
        return "top" if up < -14 else "thin" if up < 0 else "fat"
    if abs(across) > 26:
        return "heel" if across > 0 else "toe"
    return "sky" if up > 30 else "clean"
