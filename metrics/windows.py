"""Windows: where a number should lie for the shape the player wants, club by club.

Signs are player-relative (+ = slice side), so one table serves both hands and a fade is a draw mirrored.
Every value is common practice or, for the delivery norms, written from memory: adults of middling speed
with a good strike. An academy overrules them with its own settings, a player with their own median.
"""

from dataclasses import dataclass
from typing import Literal

from metrics.clubs import CATEGORIES
from metrics.levels import Level
from metrics.method import Mark

Intent = Literal["straight", "draw", "fade"]
INTENTS: tuple[Intent, ...] = ("straight", "draw", "fade")

# Hybrids and long irons are aimed and shaped like the woods they replace (common practice, no source).
_WOODS = ("driver", "fairway", "hybrid_long_iron")
_SHAPED = ("club_path_deg", "face_angle_deg", "face_to_path_deg")


@dataclass(frozen=True, kw_only=True)
class Window:
    """A wanted range in the stored unit of its quantity, both ends inside, with its evidence mark."""

    lo: float
    hi: float
    mark: Mark = "common practice"

    def __post_init__(self) -> None:
        if not self.lo <= self.hi:
            raise ValueError(f"a window runs from low to high, got {self.lo} to {self.hi}")

    def contains(self, value: float) -> bool:
        """True where the value lies in the window, ends included."""
        return self.lo <= value <= self.hi

    def distance(self, value: float) -> float:
        """How far outside the window the value lies; 0 inside."""
        return max(self.lo - value, value - self.hi, 0.0)

    @property
    def centre(self) -> float:
        """The middle of the window."""
        return (self.lo + self.hi) / 2

    def mirrored(self) -> "Window":
        """The window with its sign turned round: a draw's becomes a fade's."""
        return Window(lo=-self.hi, hi=-self.lo, mark=self.mark)


_STRAIGHT = {"club_path_deg": (-1.5, 1.5), "face_angle_deg": (-1.0, 1.0), "face_to_path_deg": (-1.0, 1.0)}
_DRAW_WOODS = {"club_path_deg": (2.0, 4.0), "face_angle_deg": (1.0, 2.5), "face_to_path_deg": (-2.0, -0.7)}
# Face = about 0.45 of the path for irons, rounded to half a degree.
_DRAW_IRONS = {"club_path_deg": (1.0, 3.0), "face_angle_deg": (0.5, 1.5), "face_to_path_deg": (-2.0, -0.6)}

_NORMS: dict[str, dict[str, tuple[float, float]]] = {
    "driver": {"attack_angle_deg": (-1, 4), "launch_angle_deg": (11, 16), "spin_rpm": (2200, 3200),
               "smash_factor": (1.45, 1.50)},
    "fairway": {"attack_angle_deg": (-4, -1), "launch_angle_deg": (10, 15), "spin_rpm": (3200, 4300),
                "smash_factor": (1.42, 1.48)},
    "hybrid_long_iron": {"attack_angle_deg": (-4, -1), "launch_angle_deg": (12, 17),
                         "spin_rpm": (3800, 5200), "smash_factor": (1.36, 1.45)},
    "mid_iron": {"attack_angle_deg": (-5, -2), "launch_angle_deg": (16, 21), "spin_rpm": (5500, 7000),
                 "smash_factor": (1.30, 1.38)},
    "short_iron": {"attack_angle_deg": (-6, -2.5), "launch_angle_deg": (21, 27), "spin_rpm": (7000, 8800),
                   "smash_factor": (1.22, 1.30)},
    "wedge_full": {"attack_angle_deg": (-6, -3), "launch_angle_deg": (25, 32), "spin_rpm": (8500, 10500),
                   "smash_factor": (1.10, 1.26)},
    "pitch": {"attack_angle_deg": (-6, -2), "launch_angle_deg": (26, 36)},
    "chip": {"attack_angle_deg": (-7, -2), "launch_angle_deg": (15, 30)},
    "putter": {"attack_angle_deg": (0, 3), "launch_angle_deg": (0.5, 3), "smash_factor": (1.6, 1.75),
               "launch_direction_deg": (-0.7, 0.7), "face_angle_deg": (-0.7, 0.7)},
}
_STRIKE_ZONE_MM = {"driver": 12, "fairway": 10, "hybrid_long_iron": 10, "mid_iron": 10, "short_iron": 9,
                   "wedge_full": 9, "pitch": 9, "chip": 9, "putter": 6}
_PATH_TOLERANCE = {"driver": 1.5, "fairway": 1.5, "hybrid_long_iron": 1.5, "mid_iron": 2.0,
                   "short_iron": 2.0, "wedge_full": 2.5, "pitch": 3.0, "chip": 3.0, "putter": 2.0}
_FACE_TO_PATH_TOLERANCE = {"driver": 1.2, "fairway": 1.5, "hybrid_long_iron": 1.5, "mid_iron": 2.0,
                           "short_iron": 2.0, "wedge_full": 2.5, "pitch": 3.0, "chip": 3.0, "putter": 0.7}
_GOOD_PLAYERS: tuple[Level, ...] = ("scratch", "index_1_5")


def window(*, quantity: str, intent: Intent, category: str) -> Window:
    """Return the window of a quantity (a key of ``metrics.fields``) for the intended shape and club.

    Path, face and face to path depend on the shape (hybrids and long irons as for woods); attack, launch, spin, smash
    and strike do not. Degrees, rpm, ratio or mm as stored. Raises ValueError where no window is kept.

    >>> window(quantity="club_path_deg", intent="draw", category="driver")
    Window(lo=2.0, hi=4.0, mark='common practice')
    """
    found = find_window(quantity=quantity, intent=intent, category=category)
    if found is None:
        raise ValueError(f"no window is kept for {quantity} with the {CATEGORIES[category].lower()}")
    return found


def find_window(*, quantity: str, intent: Intent, category: str) -> Window | None:
    """Return the window as ``window`` does, or None where none is kept (speed, carry: more is a wish)."""
    if intent not in INTENTS:
        raise ValueError(f"the intended shape must be one of {', '.join(INTENTS)}, got {intent!r}")
    if category not in CATEGORIES:
        raise ValueError(f"{category!r} is no club category; known are {', '.join(CATEGORIES)}")
    norm = _NORMS.get(category, {}).get(quantity)
    if norm is not None:
        return Window(lo=norm[0], hi=norm[1], mark="memory")
    if quantity in ("strike_heel_toe_mm", "strike_high_low_mm") and category in _STRIKE_ZONE_MM:
        zone = _STRIKE_ZONE_MM[category]
        return Window(lo=-zone, hi=zone, mark="memory")
    if quantity not in _SHAPED or category in ("putter", "chip", "sand"):
        return None
    if intent == "straight":
        lo, hi = _STRAIGHT[quantity]
        return Window(lo=lo, hi=hi)
    lo, hi = (_DRAW_WOODS if category in _WOODS else _DRAW_IRONS)[quantity]
    draw = Window(lo=lo, hi=hi)
    return draw if intent == "draw" else draw.mirrored()


def tolerance(*, quantity: str, category: str, level: Level) -> float:
    """Return the half-width in degrees around the middle of the intent window that a level may live with.

    Only path and face to path have one; the driver's is wider from index 6 upward. Marked "memory".
    Raises ValueError for another quantity or a club without one (greenside sand).
    """
    table = {"club_path_deg": _PATH_TOLERANCE, "face_to_path_deg": _FACE_TO_PATH_TOLERANCE}.get(quantity)
    if table is None or category not in table:
        raise ValueError(f"no tolerance is kept for {quantity} with {category}")
    if category == "driver" and level not in _GOOD_PLAYERS:
        return 2.5 if quantity == "club_path_deg" else 2.0
    return table[category]


def window_for_level(*, quantity: str, intent: Intent, category: str, level: Level) -> Window:
    """Return the intent window, widened where the level's tolerance reaches further than its ends.

    Quantities without a tolerance keep their window. Raises ValueError where ``window`` does.

    >>> window_for_level(quantity="club_path_deg", intent="straight", category="driver", level="index_13_20")
    Window(lo=-2.5, hi=2.5, mark='memory')
    """
    plain = window(quantity=quantity, intent=intent, category=category)
    if quantity not in ("club_path_deg", "face_to_path_deg"):
        return plain
    half = tolerance(quantity=quantity, category=category, level=level)
    lo, hi = min(plain.lo, plain.centre - half), max(plain.hi, plain.centre + half)
    return plain if (lo, hi) == (plain.lo, plain.hi) else Window(lo=lo, hi=hi, mark="memory")


def face_spread_limit(level: Level) -> float:
    """Return the face SD in degrees up to which a level's spread needs no work (common practice)."""
    return 1.5 if level == "scratch" else 2.5
