"""Numbers in a student's words: a size and a direction seen from the student's own side of the ball."""

_WORDS = {
    "club_path_deg": ("in-to-out", "out-to-in"),
    "face_angle_deg": ("open", "closed"),
    "face_to_path_deg": ("open to the path", "closed to the path"),
    "attack_angle_deg": ("upward", "downward"),
    "launch_angle_deg": ("upward", "downward"),
    "strike_heel_toe_mm": ("toward the heel", "toward the toe"),
    "strike_high_low_mm": ("high on the face", "low on the face"),
    "low_point_cm": ("ahead of the ball", "behind the ball"),
}
_TO_A_SIDE = {"launch_direction_deg", "side_m", "spin_axis_deg"}


def direction(*, quantity: str, value: float, left_handed: bool) -> str:
    """Return the word that replaces the sign, such as "in-to-out" or "right"; empty for plain sizes.

    The stored sign is player-relative (+ is the slice side); here, at the window, it turns into the side that
    the student sees.
    """
    if quantity in _TO_A_SIDE:
        right = (value > 0) != left_handed
        return "right" if right else "left"
    plus, minus = _WORDS.get(quantity, ("", ""))
    return plus if value > 0 else minus


def sentence(text: str) -> str:
    """Return a coach's note with a capital and one full stop, so that notes of any habit read as one page."""
    bare = str(text).strip()
    if not bare:
        return ""
    return bare[0].upper() + bare[1:] + ("" if bare[-1] in ".!?…" else ".")
