"""What goes into reading a photo and what comes out. Pixels count from the top left corner, y downward."""

from collections.abc import Mapping
from dataclasses import dataclass

from .homography import Array

FEET = ("lead_heel", "lead_toe", "trail_heel", "trail_toe", "ball")
"""The five clicks on the player, in this order: inside edge of each heel where it meets the ground, tip of each
shoe, and where the ball meets the ground."""


@dataclass(frozen=True, kw_only=True)
class Picture:
    """Size of the photo in pixels as it was clicked on, and how exact a click is (SD a direction)."""

    width_px: float
    height_px: float
    click_px: float | None = None

    @property
    def sd_px(self) -> float:
        """3 pixels of a photo 3000 wide, unless said otherwise. A choice, tried by hand with a magnifier."""
        return 3 * self.width_px / 3000 if self.click_px is None else self.click_px


@dataclass(frozen=True, kw_only=True)
class Rectangle:
    """Something rectangular on the ground: its side along the target line and the other one, cm."""

    along_cm: float
    across_cm: float


@dataclass(frozen=True, kw_only=True)
class Sticks:
    """An L of two sticks, the first along the target line; focal length in pixels, known to ``focal_share`` (SD)."""

    along_cm: float
    across_cm: float
    focal_px: float
    focal_share: float = 0.01


@dataclass(frozen=True, kw_only=True)
class Clicks:
    """What was clicked, pixels: ``corners`` (4, 2) going round with the first side along the target line, or
    (3, 2) of an L: corner, end along, end across. ``feet`` (5, 2) as in ``FEET``. ``aim`` (2, 2) or None: two
    points of a line that truly points at the target, where the rectangle does not."""

    corners: Array
    feet: Array
    aim: Array | None = None


@dataclass(frozen=True, kw_only=True)
class Number:
    """One number with the half-width of its 95 % interval, in the unit its key ends with."""

    value: float
    half_width: float


@dataclass(frozen=True, kw_only=True)
class Reading:
    """What a photo tells. ``numbers`` by key, ``warnings`` in sentences, ``matrix`` ground -> picture,
    ``looking_down_deg`` the angle between the line of sight and the ground at the feet. ``flagged`` where the
    promised exactness is not reached or the ground itself is in doubt."""

    numbers: Mapping[str, Number]
    warnings: tuple[str, ...]
    matrix: Array
    looking_down_deg: float
    flagged: bool
