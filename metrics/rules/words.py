"""Words and numbers for a reader: the hand's own left and right, signs, units, joined lists."""

from metrics.rules.quantities import info
from metrics.rules.types import Hand

_SLICE_SIDE: dict[Hand, str] = {"right": "right", "left": "left"}
_HOOK_SIDE: dict[Hand, str] = {"right": "left", "left": "right"}


def fill(text: str, *, hand: Hand) -> str:
    """Return a library text with ``{slice_side}``, ``{hook_side}`` and ``{hand}`` in this player's words.

    >>> fill("It starts {slice_side}.", hand="left")
    'It starts left.'
    """
    return (text.replace("{slice_side}", _SLICE_SIDE[hand]).replace("{hook_side}", _HOOK_SIDE[hand])
            .replace("{hand}", hand))


def number(value: float, *, digits: int, sign: bool = False) -> str:
    """Return a number as written on screen: a true minus, no "−0", a plus where asked.

    >>> number(-0.04, digits=1), number(2.0, digits=1, sign=True), number(-3.2, digits=1)
    ('0.0', '+2.0', '−3.2')
    """
    rounded = round(value, digits) + 0.0
    text = f"{abs(rounded):.{digits}f}"
    if rounded < 0:
        return "−" + text
    return "+" + text if sign and rounded > 0 else text


def amount(quantity: str, *, value: float, sign: bool = False) -> str:
    """Return a value with the digits and the unit of its quantity: ``amount("club_path_deg", value=5.7)`` → "5.7°"."""
    about = info(quantity)
    return number(value, digits=about.digits, sign=sign) + unit_suffix(about.unit)


_DIRECTIONS: dict[str, tuple[str, str]] = {
    "club_path_deg": ("in-to-out", "out-to-in"), "face_angle_deg": ("open", "closed"),
    "face_to_path_deg": ("open to the path", "closed to the path"), "attack_angle_deg": ("up", "down"),
    "launch_direction_deg": ("{slice_side}", "{hook_side}"), "side_m": ("{slice_side}", "{hook_side}"),
    "side_pct_carry": ("to the {slice_side}", "to the {hook_side}"),
    "spin_axis_deg": ("tilted {slice_side}", "tilted {hook_side}"),
    "strike_heel_toe_mm": ("toward the heel", "toward the toe"), "strike_high_low_mm": ("high", "low"),
    "low_point_cm": ("ahead of the ball", "behind the ball"), "face_aim_deg": ("open", "closed"),
    "feet_deg": ("closed", "open"), "hips_deg": ("closed", "open"), "shoulders_deg": ("closed", "open"),
    "shoulders_minus_feet_deg": ("closed", "open"),
    "ball_position_cm": ("back from the lead heel", "ahead of the lead heel"),
    "handle_ahead_cm": ("ahead", "behind"), "shoulder_tilt_deg": ("trail side lower", "lead side lower"),
    "trunk_tilt_deg": ("away from the target", "toward the target"),
    "eyes_inside_cm": ("inside the line", "outside the line"),
}
"""What plus and minus are called, where the sign has a name."""


def directed(quantity: str, *, value: float, hand: Hand) -> str:
    """Return a value with its direction in words where it has one.

    >>> directed("club_path_deg", value=-4.6, hand="right")
    '4.6° out-to-in'
    """
    names = _DIRECTIONS.get(quantity)
    if names is None:
        return amount(quantity, value=value)
    size = amount(quantity, value=abs(value))
    if float(number(abs(value), digits=info(quantity).digits)) == 0:
        return size
    return fill(f"{size} {names[0] if value > 0 else names[1]}", hand=hand)


def span(quantity: str, *, limits: tuple[float, float]) -> str:
    """Return a window in words: "2.0 to 4.0°"; one with a name of its own by that name."""
    about = info(quantity)
    if quantity == "weight_toe_heel" and limits == (0, 0):
        return "mid-foot: 0, toes +1, heels −1"
    low, high = (number(v, digits=about.digits) for v in limits)
    return f"{low} to {high}{unit_suffix(about.unit)}"


def unit_suffix(unit: str) -> str:
    """The unit as it follows a number: no space before a degree or per cent sign."""
    if not unit:
        return ""
    return unit if unit[0] in "°%" else " " + unit


def balls(count: int) -> str:
    """Return "1 ball" or "7 balls"."""
    return f"{count} ball" if count == 1 else f"{count} balls"


def joined(items: list[str]) -> str:
    """Return "a", "a and b" or "a, b and c"."""
    if len(items) < 2:
        return "".join(items)
    return ", ".join(items[:-1]) + " and " + items[-1]
