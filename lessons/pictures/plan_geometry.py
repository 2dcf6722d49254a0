"""Where feet, ball and lines lie on the ground, in centimetres, before anything is drawn.

The frame belongs to the player: the origin is the inside of the lead heel, ``u`` runs along the target
line toward the trail foot (away from the target), ``v`` from the heels toward the ball. It is the same for
both hands; only ``Paper`` knows left from right, and turns the whole picture round for a left-hander.
"""

import math
from dataclasses import dataclass

HEEL_WIDTH_CM = 7.62
"""Three inches, so that half a heel stands on either side of the inside gap. Common practice, no source."""
FOOT_LENGTH_CM = 28.3
"""Length of the drawn shoe; drawn, never measured from."""

Point = tuple[float, float]

# Half a sole, heel centre at the origin, toe up; inside of the foot on the +u side. One move, four curves.
_SOLE: tuple[Point, ...] = (
    (-3.81, 0),
    (-3.81, -5.1), (3.81, -5.1), (3.81, 0),
    (3.6, 6), (4.5, 10), (5.0, 15),
    (5.4, 20.5), (3.2, 24.5), (0.3, 24.5),
    (-3.6, 24.5), (-5.3, 19), (-4.8, 14),
    (-4.4, 9.5), (-3.7, 5.5), (-3.81, 0),
)


def trail_heel(*, width_cm: float, feet_deg: float) -> Point:
    """Centre of the trail heel. + feet_deg is closed: the trail foot is pulled back from the ball.

    width_cm is the gap between the insides of the heels, at least 0; feet_deg within ±45. Trigonometry of a
    line through both heel centres, tan(angle) = pull-back / (gap + one heel).
    """
    span = width_cm + HEEL_WIDTH_CM
    return (width_cm + HEEL_WIDTH_CM / 2, -span * math.tan(math.radians(feet_deg)))


def lead_heel() -> Point:
    """Centre of the lead heel: half a heel on the target side of the origin."""
    return (-HEEL_WIDTH_CM / 2, 0.0)


def sole(*, heel: Point, flare_deg: float, lead: bool) -> list[Point]:
    """Outline of one foot as control points; flare_deg is + when the toes turn out from the middle."""
    side = -1 if lead else 1
    turn = math.radians(flare_deg) * side
    outline = []
    for across, along in _SOLE:
        # The inside edge (+across) of the lead foot faces the trail foot, and the other way about.
        u = -side * across
        outline.append((
            heel[0] + u * math.cos(turn) + along * math.sin(turn),
            heel[1] - u * math.sin(turn) + along * math.cos(turn),
        ))
    return outline


def direction(*, degrees: float, half_length: float, centre: Point) -> tuple[Point, Point]:
    """Both ends of a body line through ``centre``: target end first. + is closed (target end nearer the ball)."""
    du = half_length * math.cos(math.radians(degrees))
    dv = half_length * math.sin(math.radians(degrees))
    return (centre[0] - du, centre[1] + dv), (centre[0] + du, centre[1] - dv)


@dataclass(frozen=True, kw_only=True)
class Paper:
    """Maps the player's centimetres to the picture. The target is left for a right-hander looking down."""

    left_handed: bool
    scale: float
    width: float
    u_min: float
    v_max: float
    top: float

    def x(self, u: float) -> float:
        x = (u - self.u_min) * self.scale
        return self.width - x if self.left_handed else x

    def y(self, v: float) -> float:
        return self.top + (self.v_max - v) * self.scale

    def at(self, point: Point) -> Point:
        return self.x(point[0]), self.y(point[1])

    def toward_target(self) -> str:
        """The text-anchor that keeps words on the target side of their point."""
        return "start" if self.left_handed else "end"

    def toward_trail(self) -> str:
        return "end" if self.left_handed else "start"
