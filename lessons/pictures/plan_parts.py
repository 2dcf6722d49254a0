"""The layers of the plan view: windows, ground, a body, its measures."""

from __future__ import annotations

from typing import TYPE_CHECKING

from metrics.checkpoints import BALL_WIDTH_CM

from .plan_geometry import (
    FOOT_LENGTH_CM,
    HEEL_WIDTH_CM,
    Paper,
    Point,
    direction,
    lead_heel,
    sole,
    trail_heel,
)
from .svg import Markup, el, group, label, line, number, plain, points

if TYPE_CHECKING:
    from .setup_plan import Plan, Setup

# Drawn where nothing was measured; always dashed, never given as a number.
USUAL_WIDTH_CM = 38.0
USUAL_BALL_CM = 8.0
USUAL_DISTANCE_CM = 42.0
USUAL_FLARE_DEG = {"lead": 20.0, "trail": 10.0}
ROW_HALF_CM = 22.0
"""Half the length of a direction line behind the feet."""
TOE_V = FOOT_LENGTH_CM - 3.8
_STROKES = {"now": (2.5, None), "before": (2, "7 4"), "goal": (2.5, "1.5 4.5")}


def width_of(setup: Setup) -> float:
    return USUAL_WIDTH_CM if setup.stance_width_cm is None else setup.stance_width_cm


def ball_of(setup: Setup) -> float:
    return USUAL_BALL_CM if setup.ball_cm is None else setup.ball_cm


def ball_v(setup: Setup) -> float:
    distance = USUAL_DISTANCE_CM if setup.ball_distance_cm is None else setup.ball_distance_cm
    return TOE_V + distance


def windows(plan: Plan, paper: Paper) -> Markup:
    """Where the ball and the trail heel belong for this club and intent."""
    layers = []
    if "ball_position_cm" in plan.windows:
        low, high = plan.windows["ball_position_cm"]
        v = ball_v(plan.now)
        layers.append(_band(low, high, v + 6, TOE_V + 5, paper, f"{plan.key}-ball-window", "ball_position_cm"))
    if "stance_width_ratio" in plan.windows:
        low, high = (ratio * plan.shoulder_width_cm for ratio in plan.windows["stance_width_ratio"])
        layers.append(_band(low, high, 6, -8, paper, f"{plan.key}-width-window", "stance_width_ratio"))
    return group(*layers)


def _band(low: float, high: float, top_v: float, bottom_v: float, paper: Paper, key: str, part: str) -> Markup:
    x = min(paper.x(low), paper.x(high))
    return el("rect", id=key, class_="window", data_window=part, x=x, y=paper.y(top_v),
              width=abs(high - low) * paper.scale, height=(top_v - bottom_v) * paper.scale, stroke_width=1.5,
              stroke_dasharray="3 3", fill="none", stroke="currentColor")


def ground(plan: Plan, paper: Paper) -> Markup:
    """The target line with its arrow, and the sticks."""
    y = paper.y(ball_v(plan.now))
    tip = 6 if not plan.left_handed else paper.width - 6
    tail = paper.width - tip
    back = 12 if not plan.left_handed else -12
    words_at = tip + (2 if not plan.left_handed else -2)
    layers = [
        line(tail, y, tip, y, "target-line", stroke_width=1.5, stroke_dasharray="10 5"),
        el("path", class_="fill", d=f"M{number(tip)},{number(y)} l{back},-6 v12 z"),
        label(words_at, y + 21, "target", "soft", anchor=paper.toward_trail()),
    ]
    layers += [_stick(kind, plan, paper) for kind in plan.sticks]
    return group(*layers, id=f"{plan.key}-ground")


def _stick(kind: str, plan: Plan, paper: Paper) -> Markup:
    """An alignment stick, a good centimetre thick on the picture so that it can be seen."""
    thick = 1.4 * paper.scale
    if kind == "ball":
        u = ball_of(plan.now) - BALL_WIDTH_CM
        box = {"x": paper.x(u) - thick / 2, "y": paper.y(ball_v(plan.now) - 7), "width": thick,
               "height": (ball_v(plan.now) - 7 - TOE_V - 3) * paper.scale}
    else:
        v = ball_v(plan.now) + 5.5 if kind == "aim" else TOE_V + 2.5
        box = {"x": 14.0, "y": paper.y(v) - thick / 2, "width": paper.width - 28, "height": thick}
    return el("rect", id=f"{plan.key}-stick-{kind}", class_="stick", data_stick=kind, rx=thick / 2,
              fill="none", stroke="currentColor", stroke_width=1.5, **box)


def body(setup: Setup, plan: Plan, paper: Paper, kind: str) -> Markup:
    """Both feet, the ball and the face of one setup; ``kind`` is now, before or goal."""
    width, feet = width_of(setup), setup.feet_deg or 0.0
    heels = {"lead": lead_heel(), "trail": trail_heel(width_cm=width, feet_deg=feet)}
    parts = []
    for side, heel in heels.items():
        flare = getattr(setup, f"{side}_flare_deg")
        outline = sole(heel=heel, flare_deg=USUAL_FLARE_DEG[side] if flare is None else flare,
                       lead=side == "lead")
        guessed = side == "trail" and setup.stance_width_cm is None
        parts.append(el("path", id=f"{plan.key}-{kind}-{side}-foot", class_="foot", data_part=f"{side}_foot",
                        d=_curve(outline, paper), fill="none", stroke="currentColor",
                        **_stroke(kind, guessed)))
    ball = (ball_of(setup), ball_v(setup))
    x, y = paper.at(ball)
    parts.append(el("circle", id=f"{plan.key}-{kind}-ball", class_="ball", data_part="ball_position_cm",
                    data_value=setup.ball_cm, cx=x, cy=y, r=BALL_WIDTH_CM / 2 * paper.scale, fill="none",
                    stroke="currentColor", **_stroke(kind, setup.ball_cm is None)))
    if setup.face_aim_deg is not None:
        parts.append(_face(setup.face_aim_deg, ball, paper, kind, plan.key))
    return group(*parts, id=f"{plan.key}-{kind}", class_=kind)


def _face(degrees: float, ball: Point, paper: Paper, kind: str, key: str) -> Markup:
    """The leading edge just behind the ball, square to where it aims; + is open."""
    behind = (ball[0] + BALL_WIDTH_CM / 2 + 0.9, ball[1])
    # Square to the aim: an open face turns the toe end (far from the player) away from the target.
    heel_end, toe_end = direction(degrees=degrees - 90, half_length=4.5, centre=behind)
    (x1, y1), (x2, y2) = paper.at(heel_end), paper.at(toe_end)
    return line(x1, y1, x2, y2, "body-line", id=f"{key}-{kind}-face", data_part="face_aim_deg",
                data_value=degrees, stroke_linecap="round", **(_stroke(kind, False) | {"stroke_width": 4}))


def _stroke(kind: str, guessed: bool) -> dict[str, object]:
    width, dash = _STROKES[kind]
    return {"stroke_width": width, "stroke_dasharray": "4 4" if guessed else dash}


def _curve(outline: list[Point], paper: Paper) -> str:
    """Cubic curves through the control points of a sole."""
    at = [paper.at(point) for point in outline]
    thirds = zip(at[1::3], at[2::3], at[3::3], strict=True)
    steps = [f"C{points(list(third))}" for third in thirds]
    return f"M{points(at[:1])} {' '.join(steps)} Z"


def measures(plan: Plan, paper: Paper) -> Markup:
    """The ruler from the lead heel to the ball, and the gap between the heels, with their numbers."""
    layers = []
    now = plan.now
    if now.ball_cm is not None:
        v = TOE_V + 13
        y, start, end = paper.y(v), paper.x(0), paper.x(now.ball_cm)
        beyond = max(now.ball_cm, plan.windows.get("ball_position_cm", (0, 0))[1], 0) + 3
        layers += [
            line(start, paper.y(4), start, y - 7, "edge", stroke_width=1, stroke_dasharray="2 3"),
            line(end, paper.y(ball_v(now) - 3.5), end, y + 7, "edge", stroke_width=1, stroke_dasharray="2 3"),
            _ruler(start, end, y),
            label(paper.x(beyond), y + 5, ball_words(now.ball_cm), "strong halo", size=15,
                  anchor=paper.toward_trail(), stroke_width=5),
        ]
        if "ball_position_cm" in plan.windows:
            low, high = plan.windows["ball_position_cm"]
            words = f"window {plain(low, 0)} to {plain(high, 0)} cm"
            layers.append(label(paper.x(beyond), y + 23, words, "accent-text halo", size=13,
                                anchor=paper.toward_trail(), stroke_width=5))
    if now.stance_width_cm is not None:
        y = paper.y(1)
        ratio = now.stance_width_cm / plan.shoulder_width_cm
        layers += [
            _ruler(paper.x(0), paper.x(now.stance_width_cm), y),
            label(paper.x(now.stance_width_cm / 2), y - 8, f"{plain(now.stance_width_cm, 0)} cm", "strong",
                  size=15, anchor="middle"),
            label(paper.x(now.stance_width_cm / 2), y + 17, f"{plain(ratio, 2)} ×", "soft", size=13,
                  anchor="middle"),
        ]
    return group(*layers, id=f"{plan.key}-measures")


def ball_words(ball_cm: float) -> str:
    """Where the ball is, counted from the inside of the lead heel."""
    if round(ball_cm, 1) < 0:
        return f"ball {plain(-ball_cm)} cm ahead of the heel"
    return f"ball {plain(ball_cm)} cm"


def _ruler(start: float, end: float, y: float) -> Markup:
    return group(
        line(start, y, end, y, "ink", stroke_width=2),
        line(start, y - 6, start, y + 6, "ink", stroke_width=2),
        line(end, y - 6, end, y + 6, "ink", stroke_width=2),
    )


def bow_tie(window: tuple[float, float] | None, centre: Point, paper: Paper) -> Markup:
    """Every direction inside the window, swept about the middle of the stance."""
    if window is None:
        return Markup()
    (low_target, low_trail), (high_target, high_trail) = (
        direction(degrees=degrees, half_length=ROW_HALF_CM, centre=centre) for degrees in window
    )
    corners = [paper.at(p) for p in (centre, low_target, high_target, centre, low_trail, high_trail)]
    return el("polygon", class_="window", points=points(corners), stroke_width=1, fill="none",
              stroke="currentColor")


def direction_line(degrees: float, centre: Point, paper: Paper, kind: str) -> Markup:
    (x1, y1), (x2, y2) = (paper.at(end) for end in direction(degrees=degrees, half_length=ROW_HALF_CM, centre=centre))
    body_line = line(x1, y1, x2, y2, "body-line", stroke_linecap="round", **_stroke(kind, False))
    return group(body_line, class_=kind)


def legend(plan: Plan, y: float) -> Markup:
    """Which outline is which, by line and by word."""
    words = [(plan.now_word, "now")]
    if plan.before:
        words.append(("before", "before"))
    if plan.goal:
        words.append(("aim for", "goal"))
    parts = []
    for place, (word, kind) in enumerate(words):
        x = 12 + place * 112
        parts.append(group(line(x, y - 4, x + 28, y - 4, "body-line", **_stroke(kind, False)), class_=kind))
        parts.append(label(x + 34, y, word, size=13))
    return group(*parts, class_="plan-legend")


__all__ = [
    "HEEL_WIDTH_CM", "ball_of", "ball_v", "body", "bow_tie", "direction_line", "ground", "legend", "measures",
    "width_of", "windows",
]
