"""Feet and ball on the ground: from points in cm to the numbers of the setup.

The frame is the player's: u along the target line away from the target, v from the heels toward the ball. It is
the same for both hands, so a left-hander's numbers carry the same signs; see ``metrics.checkpoints``.
"""

import numpy as np

from metrics.setup_geometry import FOOT_WIDTHS_CM

from .homography import Array

HALF_HEEL_CM = FOOT_WIDTHS_CM / 2
"""From the inside edge of a heel to its middle."""
KEYS = ("stance_width_cm", "ball_position_cm", "feet_deg", "toes_deg", "lead_flare_deg", "trail_flare_deg",
        "ball_distance_cm")


def stance_numbers(*, feet: Array, half_heel_cm: Array) -> Array:
    """Return the numbers (…, 7) in the order of ``KEYS`` from ground points ``feet`` (…, 5, 2) in cm.

    feet: inside of the lead heel, lead toe, inside of the trail heel, trail toe, ball, as (u, v).
    half_heel_cm: (…), half the width of a heel. Stance width and ball position are taken along the target line;
    the foot line runs through the middles of both heels and is + closed, like the toe line; a flare is the turn
    of heel middle to toe out of the square, + outward; the distance is from the toe line's middle to the ball.
    """
    lead, lead_toe, trail, trail_toe, ball = (feet[..., i, :] for i in range(5))
    width = trail[..., 0] - lead[..., 0]
    line = np.arctan2(lead[..., 1] - trail[..., 1], width + 2 * half_heel_cm)
    toes = np.arctan2(lead_toe[..., 1] - trail_toe[..., 1], trail_toe[..., 0] - lead_toe[..., 0])
    return np.stack([
        width, ball[..., 0] - lead[..., 0], np.degrees(line), np.degrees(toes),
        _flare(lead, lead_toe, -1, half_heel_cm), _flare(trail, trail_toe, 1, half_heel_cm),
        ball[..., 1] - (lead_toe[..., 1] + trail_toe[..., 1]) / 2,
    ], axis=-1)


def _flare(heel: Array, toe: Array, outward: int, half_heel: Array) -> Array:
    """The inside edge and the toe span a slanted line; the shoe's own axis starts half a heel further out."""
    run = toe - heel
    slant = np.arctan2(outward * run[..., 0], run[..., 1])
    share = half_heel / np.maximum(np.hypot(run[..., 0], run[..., 1]), 1e-9)
    return np.asarray(np.degrees(slant - np.arcsin(np.clip(share, -1, 1))), dtype=np.float64)


def turned(*, points: Array, target_deg: Array) -> Array:
    """Return points (…, n, 2) in a frame whose target line lies ``target_deg`` (…) closed of the old one."""
    angle = np.radians(target_deg)[..., None]
    u, v = points[..., 0], points[..., 1]
    return np.stack([u * np.cos(angle) - v * np.sin(angle), u * np.sin(angle) + v * np.cos(angle)], axis=-1)
