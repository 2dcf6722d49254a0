"""The board as pictures: from above and from the front, for the student's hand, windows drawn in."""

from collections.abc import Mapping
from typing import Any

from django.utils.safestring import SafeString

from lessons.pictures.setup_face_on import FaceOn
from lessons.pictures.setup_face_on import draw as draw_face_on
from lessons.pictures.setup_plan import Plan, Setup
from lessons.pictures.setup_plan import draw as draw_plan
from lessons.queries.setup import Board

PLAN = ("stance_width_ratio", "ball_position_cm", "feet_deg", "hips_deg", "shoulders_deg", "face_aim_deg")
"""Checkpoints that the picture from above shows."""
FACE_ON = ("shoulder_tilt_deg", "trunk_tilt_deg", "handle_ahead_cm", "lead_weight_pct", "tee_height_mm")
"""Checkpoints that only the picture from the front shows."""
_PLAIN = ("feet_deg", "hips_deg", "shoulders_deg", "face_aim_deg", "lead_flare_deg", "trail_flare_deg")


def plan(board: Board, *, left_handed: bool, key: str, goal: Mapping[str, float] | None = None,
         only: tuple[str, ...] | None = None) -> SafeString:
    """Draw the setup from above: the latest numbers, the ones before under them, and a goal where one is given."""
    latest, before, after = board.values(), board.values("before"), board.values("after")
    width = board.shoulder_width_cm
    return draw_plan(Plan(
        now=setup_from(latest, width), left_handed=left_handed,
        before=setup_from(before, width) if before and after else None,
        goal=setup_from({**latest, **goal}, width) if goal else None, windows=_windows(board, only or PLAN),
        shoulder_width_cm=width, key=key, now_word="after" if before and after else "now",
    ))


def face_on(board: Board, *, left_handed: bool, key: str) -> SafeString:
    """Draw the setup from the front: the latest numbers, the ones before under them."""
    latest, before, after = board.values(), board.values("before"), board.values("after")
    width = board.shoulder_width_cm
    return draw_face_on(front_of(
        latest, width, left_handed=left_handed, windows=_windows(board, FACE_ON), key=key,
        before=front_of(before, width, left_handed=left_handed) if before and after else None,
    ))


def front_of(values: Mapping[str, float], shoulder_width_cm: float, **other: Any) -> FaceOn:
    """Turn numbers by checkpoint into what the picture from the front draws."""
    ratio = values.get("stance_width_ratio")
    return FaceOn(
        stance_width_cm=None if ratio is None else ratio * shoulder_width_cm, ball_cm=values.get("ball_position_cm"),
        shoulder_tilt_deg=values.get("shoulder_tilt_deg"), trunk_tilt_deg=values.get("trunk_tilt_deg"),
        handle_cm=values.get("handle_ahead_cm"), lead_weight_pct=values.get("lead_weight_pct"),
        tee_mm=values.get("tee_height_mm"), shoulder_width_cm=shoulder_width_cm, **other,
    )


def setup_from(values: Mapping[str, float], shoulder_width_cm: float) -> Setup:
    """Turn numbers by checkpoint into what the picture draws."""
    ratio = values.get("stance_width_ratio")
    return Setup(
        stance_width_cm=None if ratio is None else ratio * shoulder_width_cm, ball_cm=values.get("ball_position_cm"),
        ball_distance_cm=values.get("toe_ball_cm"), **{key: values[key] for key in _PLAIN if key in values},
    )


def _windows(board: Board, keys: tuple[str, ...]) -> dict[str, tuple[float, float]]:
    return {key: board.rows[key].window for key in keys if key in board.rows and board.rows[key].window}
