"""What the setup does to the strike by geometry alone: the tilted arc, the foot line, aim and lie.

The clubhead near the ball is taken to run on a circle in a tilted plane whose lowest point stays where it
is in the player's stance. Before the low point the head still travels down and outward, after it up and
inward; so moving the ball along the arc changes attack and path together. Principle: clubhead paths fit a
tilted ellipse (Morrison 2017, abstract read); plane angles from memory; radius = club length + 0.65 m, from
memory. Hands, face and the player's reaction are not in it: learn those from the player.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from metrics.checkpoints import BALL_WIDTH_CM

ARM_M = 0.65
"""Added to the club's length for the effective radius of the arc. From memory."""
FOOT_WIDTHS_CM = 7.62
"""Inside heels to the line of the feet, both sides together: 3 inches. Common practice."""


@dataclass(frozen=True, kw_only=True)
class Arc:
    """The arc of a club: plane angle from the ground in degrees, radius in metres."""

    plane_deg: float
    radius_m: float


def _arc(plane_deg: float, club_length_m: float) -> Arc:
    return Arc(plane_deg=plane_deg, radius_m=club_length_m + ARM_M)


ARCS: Mapping[str, Arc] = {
    "driver": _arc(47, 1.14), "fairway": _arc(50, 1.07), "hybrid_long_iron": _arc(53, 1.02),
    "mid_iron": _arc(59, 0.94), "short_iron": _arc(61, 0.915), "wedge_full": _arc(63, 0.895),
    "pitch": _arc(63, 0.895), "chip": _arc(63, 0.895), "sand": _arc(63, 0.895),
}
"""Arc by club category (the mid iron is a 7-iron). A putter's arc is not described by this model."""


@dataclass(frozen=True, kw_only=True)
class Delivery:
    """Direction of the clubhead at one point of the arc, degrees: path + in-to-out, attack + upward."""

    path_deg: float
    attack_deg: float


def delivery_at(*, arc: Arc, ahead_of_low_point_m: float) -> Delivery:
    """Return path and attack where the ball lies ``ahead_of_low_point_m`` past the low point (− = before it).

    Exact for the circle; path is counted from the plane's own direction. Raises ValueError beyond half the
    radius, where no ball is struck.
    """
    sine = ahead_of_low_point_m / arc.radius_m
    if abs(sine) > 0.5:
        raise ValueError(f"{ahead_of_low_point_m:g} m from the low point is off the arc; "
                         f"expected at most {arc.radius_m / 2:.2f} m")
    plane = math.radians(arc.plane_deg)
    turn = math.asin(sine)
    attack = math.asin(math.sin(turn) * math.sin(plane))
    path = -math.atan2(math.sin(turn) * math.cos(plane), math.cos(turn))
    return Delivery(path_deg=math.degrees(path), attack_deg=math.degrees(attack))


def ball_move_effect(*, club_category: str, back_cm: float, attack_deg: float = 0.0) -> Delivery | None:
    """Return the change of path and attack, degrees, when the ball moves ``back_cm`` toward the trail foot.

    ``attack_deg`` is the attack now and places the ball on the arc; the effect hardly depends on it. None for
    clubs without an arc (putter). Raises ValueError for positions off the arc.
    """
    arc = ARCS.get(club_category)
    if arc is None:
        return None
    sine = math.sin(math.radians(attack_deg)) / math.sin(math.radians(arc.plane_deg))
    now = delivery_at(arc=arc, ahead_of_low_point_m=sine * arc.radius_m)
    then = delivery_at(arc=arc, ahead_of_low_point_m=sine * arc.radius_m - back_cm / 100)
    return Delivery(path_deg=then.path_deg - now.path_deg, attack_deg=then.attack_deg - now.attack_deg)


def ball_width_effect(*, club_category: str) -> Delivery | None:
    """Return the change of path and attack when the ball moves back by one ball width; None for a putter."""
    return ball_move_effect(club_category=club_category, back_cm=BALL_WIDTH_CM)


def foot_line_deg(*, pulled_back_cm: float, heel_gap_cm: float) -> float:
    """Return how far the foot line turns, degrees, when one foot is pulled back.

    ``heel_gap_cm`` is the gap between the inside heels. Raises ValueError for a gap below 0.
    """
    if heel_gap_cm < 0:
        raise ValueError(f"a gap between the heels of {heel_gap_cm:g} cm cannot be; expected 0 or more")
    return math.degrees(math.atan2(pulled_back_cm, heel_gap_cm + FOOT_WIDTHS_CM))


def aim_offset(*, aim_deg: float, distance: float) -> float:
    """Return how far off line an aim error ends, in the unit of ``distance``. For aim errors below 45°."""
    return distance * math.tan(math.radians(aim_deg))


def lie_start_deg(*, lie_error_deg: float, loft_deg: float) -> float:
    """Return the start error of a wrong lie angle, degrees: upright (+) points a lofted face to the hook side.

    The face normal tips sideways by the loft's share of the lie error; so it grows with loft.
    """
    return -math.degrees(math.atan(math.tan(math.radians(loft_deg)) * math.sin(math.radians(lie_error_deg))))
