"""The setup from the front, true to scale: tilt, handle, weight, and the tee in a magnified inset.

Facing the player, a right-hander's target is to the right of the picture; a left-hander's to the left.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

from django.utils.safestring import SafeString

from metrics.checkpoints import BALL_WIDTH_CM, DEFAULT_SHOULDER_WIDTH_CM

from .plan_geometry import HEEL_WIDTH_CM, Point
from .svg import Markup, el, group, label, line, picture, plain, points, signed


@dataclass(frozen=True, kw_only=True)
class FaceOn:
    """One setup from the front. None is not looked at: drawn dashed, without a number.

    Tilts in degrees: shoulder + trail shoulder lower, trunk + away from the target. handle_cm is + when the
    hands are ahead of the ball (toward the target). lead_weight_pct 0..100, tee_mm 0..100. ``before`` and ``goal`` are
    laid under the figure at the same scale and about the same lead heel.
    """

    stance_width_cm: float | None = None
    ball_cm: float | None = None
    shoulder_tilt_deg: float | None = None
    trunk_tilt_deg: float | None = None
    handle_cm: float | None = None
    lead_weight_pct: float | None = None
    tee_mm: float | None = None
    left_handed: bool = False
    shoulder_width_cm: float = DEFAULT_SHOULDER_WIDTH_CM
    windows: Mapping[str, tuple[float, float]] = field(default_factory=dict)
    before: "FaceOn | None" = None
    goal: "FaceOn | None" = None
    now_word: str = "now"
    key: str = "face-on"
    title: str = "Setup from the front"


WIDTH, HEIGHT, SCALE, GROUND_Y = 340.0, 430.0, 2.1, 352.0
TEE_SCALE = SCALE * 3 / 10
"""Pixels a millimetre in the inset of the tee, three times as large as the figure."""
_HIP, _TRUNK, _HANDS, _HEAD = 84.0, 50.0, 72.0, 11.0
"""Heights of a drawn adult in centimetres; drawn, never measured from."""


@dataclass(frozen=True, kw_only=True)
class _Joints:
    """Points of the figure in the player's frame: u away from the target, h above the ground, cm."""

    lead_foot: Point
    trail_foot: Point
    hips: Point
    neck: Point
    lead_shoulder: Point
    trail_shoulder: Point
    hands: Point
    ball: Point


def joints(setup: FaceOn) -> _Joints:
    """Place the figure: the trunk leans by its tilt, the shoulders by theirs, hands over ball and handle."""
    width = 38.0 if setup.stance_width_cm is None else setup.stance_width_cm
    ball = 8.0 if setup.ball_cm is None else setup.ball_cm
    lean, tilt = (math.radians(v or 0.0) for v in (setup.trunk_tilt_deg, setup.shoulder_tilt_deg))
    hips = (width / 2, _HIP)
    neck = (hips[0] + _TRUNK * math.sin(lean), _HIP + _TRUNK * math.cos(lean))
    du, dh = (setup.shoulder_width_cm / 2 * f for f in (math.cos(tilt), math.sin(tilt)))
    tee = (setup.tee_mm or 0.0) / 10
    return _Joints(
        lead_foot=(-HEEL_WIDTH_CM / 2, 0.0), trail_foot=(width + HEEL_WIDTH_CM / 2, 0.0), hips=hips, neck=neck,
        lead_shoulder=(neck[0] - du, neck[1] + dh), trail_shoulder=(neck[0] + du, neck[1] - dh),
        hands=(ball - (setup.handle_cm or 0.0), _HANDS), ball=(ball, tee + BALL_WIDTH_CM / 2),
    )


def draw(setup: FaceOn) -> SafeString:
    """Draw the figure with its numbers and windows."""
    place = joints(setup)
    middle = place.hips[0]

    def x(u: float) -> float:
        off = (u - middle) * SCALE
        return WIDTH / 2 + (off if setup.left_handed else -off)

    def at(point: Point) -> Point:
        return x(point[0]), GROUND_Y - point[1] * SCALE

    ghosts = [(kind, ghost) for kind, ghost in (("before", setup.before), ("goal", setup.goal)) if ghost]
    layers = [_ground(setup, at), _handle_window(setup, place, at)]
    layers += [_ghost(setup.key, kind, joints(ghost), at) for kind, ghost in ghosts]
    layers += [_figure(setup, place, at), _tilt(setup, place, at), _weight(setup, place, at), _tee(setup)]
    layers += [_legend(setup.now_word, [kind for kind, _ in ghosts])] if ghosts else []
    return picture(*layers, key=setup.key, width=WIDTH, height=HEIGHT + (24 if ghosts else 0), class_="pic-face",
                   title=setup.title, description=describe(setup), data_scale=SCALE,
                   data_hand="left" if setup.left_handed else "right", **_anchors(setup, place, at))


def _anchors(setup: FaceOn, place: _Joints, at) -> dict[str, object]:
    """Where the parts are, for whatever lies over the picture and moves them."""
    (nx, ny), (hx, hy) = at(place.neck), at(place.hips)
    tee_x, floor = _tee_foot(setup)
    share = 50.0 if setup.lead_weight_pct is None else setup.lead_weight_pct
    return {
        "data_neck": f"{nx:.1f} {ny:.1f}", "data_hips": f"{hx:.1f} {hy:.1f}",
        "data_weight": f"{_balance_x(share, place, at):.1f} {GROUND_Y + 14:.1f}",
        "data_weight_span": round(abs(at(place.lead_foot)[0] - at(place.trail_foot)[0]), 2),
        "data_tee": f"{tee_x:.1f} {floor - (setup.tee_mm or 0) * TEE_SCALE:.1f}", "data_tee_scale": TEE_SCALE,
    }


def _balance_x(lead_pct: float, place: _Joints, at) -> float:
    """Where the weight stands between the feet: over the lead foot at 100 %."""
    lead, trail = at(place.lead_foot)[0], at(place.trail_foot)[0]
    return trail + (lead - trail) * lead_pct / 100


def _ghost(key: str, kind: str, place: _Joints, at) -> Markup:
    """Another setup under the figure, as lines: legs, trunk, shoulders, arms and shaft."""
    dash = {"before": "7 4", "goal": "1.5 4.5"}[kind]
    ways = [
        (place.lead_foot, place.hips, place.trail_foot), (place.hips, place.neck),
        (place.lead_shoulder, place.trail_shoulder), (place.lead_shoulder, place.hands, place.trail_shoulder),
        (place.hands, (place.ball[0] + 2.5, 1.0)),
    ]
    lines = [el("polyline", points=points([at(point) for point in way]), class_="body-line", fill="none",
                stroke="currentColor", stroke_width=2, stroke_dasharray=dash, stroke_linecap="round") for way in ways]
    return group(*lines, id=f"{key}-{kind}", class_=kind)


def _legend(now_word: str, kinds: list[str]) -> Markup:
    """Which figure is which, by line and by word."""
    parts = []
    for place, (word, dash, kind) in enumerate([(now_word, None, "now"), *(
            ("before", "7 4", kind) if kind == "before" else ("aim for", "1.5 4.5", kind) for kind in kinds)]):
        x, y = 12 + place * 105, HEIGHT + 12
        parts.append(group(line(x, y - 4, x + 28, y - 4, "body-line", stroke_width=2.5, stroke_dasharray=dash),
                           class_=kind))
        parts.append(label(x + 34, y, word, size=13))
    return group(*parts, class_="plan-legend")


def _ground(setup: FaceOn, at) -> Markup:
    tip = WIDTH - 6 if not setup.left_handed else 6
    back = -12 if not setup.left_handed else 12
    return group(
        line(6, GROUND_Y, WIDTH - 6, GROUND_Y, "edge", stroke_width=1.5),
        el("path", class_="fill", d=f"M{tip:g},{GROUND_Y:g} l{back},-6 v12 z"),
        label(tip, GROUND_Y - 12, "target", "soft", anchor="start" if setup.left_handed else "end"),
    )


def _figure(setup: FaceOn, place: _Joints, at) -> Markup:
    def limb(*joints_: Point, **extra: object) -> Markup:
        return el("polyline", points=points([at(p) for p in joints_]), class_="body-line", fill="none",
                  stroke="currentColor", stroke_width=5, stroke_linecap="round", stroke_linejoin="round",
                  **extra)

    head = (place.neck[0] + (place.neck[0] - place.hips[0]) * 0.3, place.neck[1] + _HEAD + 6)
    hx, hy = at(head)
    bx, by = at(place.ball)
    (gx, gy), (cx, cy) = at(place.hands), at((place.ball[0] + 2.5, 1.0))
    guessed = "5 5" if setup.handle_cm is None else None
    return group(
        limb(place.lead_foot, place.hips, place.trail_foot),
        limb(place.hips, place.neck),
        el("circle", cx=hx, cy=hy, r=_HEAD * SCALE, class_="hollow", stroke_width=4, fill="none",
           stroke="currentColor"),
        el("polyline", points=points([at(place.lead_shoulder), at(place.hands), at(place.trail_shoulder)]),
           class_="ink", fill="none", stroke="currentColor", stroke_width=3, stroke_linejoin="round"),
        line(gx, gy, cx, cy, "ink", id=f"{setup.key}-shaft", data_part="handle_ahead_cm",
             data_value=setup.handle_cm, stroke_width=2.5, stroke_dasharray=guessed),
        el("circle", id=f"{setup.key}-ball", cx=bx, cy=by, r=BALL_WIDTH_CM / 2 * SCALE, class_="ball",
           fill="none", stroke="currentColor", stroke_width=2),
        id=f"{setup.key}-figure",
    )


def _tilt(setup: FaceOn, place: _Joints, at) -> Markup:
    """The shoulder line with its window, and the trunk's lean beside it."""
    parts = []
    nx, ny = at(place.neck)
    toward = 1 if setup.left_handed else -1
    if "shoulder_tilt_deg" in setup.windows:
        corners = [(nx, ny)]
        for degrees in setup.windows["shoulder_tilt_deg"]:
            turn = math.radians(degrees)
            corners.append((nx + toward * 62 * math.cos(turn), ny + 62 * math.sin(turn)))
        parts.append(el("polygon", points=points(corners), class_="window", stroke_width=1, fill="none",
                        stroke="currentColor"))
    (x1, y1), (x2, y2) = at(place.lead_shoulder), at(place.trail_shoulder)
    parts.append(line(x1, y1, x2, y2, "body-line", id=f"{setup.key}-shoulders", data_part="shoulder_tilt_deg",
                      data_value=setup.shoulder_tilt_deg, stroke_width=6, stroke_linecap="round",
                      stroke_dasharray="5 8" if setup.shoulder_tilt_deg is None else None))
    side, anchor = (WIDTH - 8, "end") if setup.left_handed else (8, "start")
    rows = [("shoulder tilt", setup.shoulder_tilt_deg, "shoulder_tilt_deg"),
            ("trunk away", setup.trunk_tilt_deg, "trunk_tilt_deg")]
    shown = [row for row in rows if row[1] is not None]
    for row, (name, value, part) in enumerate(shown):
        y = 22 + row * 62
        parts.append(label(side, y, name, "soft", size=13, anchor=anchor))
        parts.append(label(side, y + 18, f"{plain(value, 0)}°", "strong", size=16, anchor=anchor))
        parts.append(_window_words(setup, part, side, y + 34, anchor))
    return group(*parts)


def _window_words(setup: FaceOn, part: str, x: float, y: float, anchor: str) -> Markup:
    """The window of one check in small accent print; nothing where there is none."""
    if part not in setup.windows:
        return Markup()
    low, high = setup.windows[part]
    return label(x, y, f"window {plain(low, 0)} to {plain(high, 0)}", "accent-text", size=12, anchor=anchor)


def _handle_window(setup: FaceOn, place: _Joints, at) -> Markup:
    """Where the hands belong over the ball, as a short band at their height; and the number."""
    parts = []
    _, y = at(place.hands)
    if "handle_ahead_cm" in setup.windows:
        edges = sorted(at((place.ball[0] - v, 0))[0] for v in setup.windows["handle_ahead_cm"])
        parts.append(el("rect", x=edges[0], y=y - 14, width=edges[1] - edges[0], height=28, class_="window",
                        stroke_width=1.5, stroke_dasharray="3 3", fill="none", stroke="currentColor"))
    if setup.handle_cm is not None:
        side, anchor = (8, "start") if setup.left_handed else (WIDTH - 8, "end")
        parts.append(label(side, y - 6, "handle ahead", "soft", size=13, anchor=anchor))
        parts.append(label(side, y + 12, f"{signed(setup.handle_cm, 0)} cm", "strong", size=16, anchor=anchor))
        parts.append(_window_words(setup, "handle_ahead_cm", side, y + 28, anchor))
    return group(*parts)


def _weight(setup: FaceOn, place: _Joints, at) -> Markup:
    """One bar under each foot, as long as its share; together always the same length."""
    if setup.lead_weight_pct is None:
        return Markup()
    parts = []
    lead_x, trail_x = at(place.lead_foot)[0], at(place.trail_foot)[0]
    span, middle = abs(trail_x - lead_x), (lead_x + trail_x) / 2
    for share, foot, name in ((setup.lead_weight_pct, place.lead_foot, "lead"),
                              (100 - setup.lead_weight_pct, place.trail_foot, "trail")):
        x, _ = at(foot)
        long = share / 100 * span
        words_x = middle + math.copysign(max(abs(x - middle), 46), x - middle)
        parts.append(el("rect", id=f"{setup.key}-weight-{name}", x=x - long / 2, y=GROUND_Y + 8, width=long,
                        height=12, class_="fill", data_value=share))
        parts.append(label(words_x, GROUND_Y + 38, f"{plain(share, 0)} %", "strong", size=16, anchor="middle"))
        parts.append(label(words_x, GROUND_Y + 54, f"{name} foot", "soft", size=13, anchor="middle"))
        if name == "lead":
            parts.append(_window_words(setup, "lead_weight_pct", words_x, GROUND_Y + 70, "middle"))
    x = _balance_x(setup.lead_weight_pct, place, at)
    parts.append(el("path", id=f"{setup.key}-balance", class_="fill", d=f"M{x:.1f},{GROUND_Y + 2:g} l-7,10 h14 z"))
    return group(*parts, data_part="lead_weight_pct")


def _tee_foot(setup: FaceOn) -> Point:
    """Where the tee stands in the ground of its inset."""
    left = 10 if not setup.left_handed else WIDTH - 74
    return left + 20, GROUND_Y - 22


def _tee(setup: FaceOn) -> Markup:
    """Ball on its tee, three times as large as the figure, with the window for the tee's height. Where there is a
    window but no number yet, the ground of the inset shows where it belongs."""
    if setup.tee_mm is None and "tee_height_mm" not in setup.windows:
        return Markup()
    x, floor = _tee_foot(setup)
    parts = [line(x - 24, floor, x + 24, floor, "ink", stroke_width=2)]
    if "tee_height_mm" in setup.windows:
        low, high = setup.windows["tee_height_mm"]
        parts.append(el("rect", x=x - 20, y=floor - high * TEE_SCALE, width=40, height=(high - low) * TEE_SCALE,
                        class_="window", stroke_width=1.5, stroke_dasharray="3 3", fill="none",
                        stroke="currentColor"))
    if setup.tee_mm is None:
        return group(*parts, label(x, floor + 14, "tee", "soft", size=12, anchor="middle"))
    radius, top = BALL_WIDTH_CM * 10 / 2 * TEE_SCALE, floor - setup.tee_mm * TEE_SCALE
    parts += [
        line(x, floor, x, top, "ink", stroke_width=4),
        el("circle", cx=x, cy=top - radius, r=radius, class_="ball", fill="none", stroke="currentColor",
           stroke_width=2),
        label(x, top - radius * 2 - 24, "tee", "soft", size=13, anchor="middle"),
        label(x, top - radius * 2 - 7, f"{plain(setup.tee_mm, 0)} mm", "strong", size=16, anchor="middle"),
    ]
    return group(*parts, id=f"{setup.key}-tee", data_part="tee_height_mm", data_value=setup.tee_mm)


def describe(setup: FaceOn) -> str:
    """Say the picture in words."""
    said = [f"Seen from the front; the target is to the {'left' if setup.left_handed else 'right'}."]
    rows = (
        ("Shoulder tilt", setup.shoulder_tilt_deg, "°", "shoulder_tilt_deg"),
        ("Trunk away from the target", setup.trunk_tilt_deg, "°", "trunk_tilt_deg"),
        ("Handle ahead of the ball", setup.handle_cm, " cm", "handle_ahead_cm"),
        ("Weight on the lead foot", setup.lead_weight_pct, " %", "lead_weight_pct"),
        ("Tee height", setup.tee_mm, " mm", "tee_height_mm"),
    )
    for name, value, unit, key in rows:
        if value is not None:
            low, high = setup.windows.get(key, (None, None))
            window = f" (window {plain(low, 0)} to {plain(high, 0)}{unit})" if low is not None else ""
            said.append(f"{name} {plain(value, 0)}{unit}{window}.")
    return " ".join(said)
