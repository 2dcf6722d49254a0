"""The setup from above, true to scale: what the player sees looking down.

Feet, ball and sticks lie where they lie on the ground. Hip and shoulder lines are drawn behind the feet as
directions only, because in a true plan they would hide the shoes.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from django.utils.safestring import SafeString

from metrics.checkpoints import BALL_WIDTH_CM, DEFAULT_SHOULDER_WIDTH_CM

from . import plan_parts
from .plan_geometry import Paper
from .svg import Markup, group, label, line, picture, plain

Stick = Literal["aim", "toes", "ball"]
"""Outside the ball along the target line; along the toes; across, at the ball."""


@dataclass(frozen=True, kw_only=True)
class Setup:
    """One setup in player-relative signs. None means not looked at; it is drawn dashed at a plain default.

    stance_width_cm is inside heel to inside heel (0..100), ball_cm from the inside of the lead heel toward
    the trail foot (−30..60), angles in degrees with + closed (face: + open), flares + turned out.
    """

    stance_width_cm: float | None = None
    ball_cm: float | None = None
    ball_distance_cm: float | None = None
    feet_deg: float | None = None
    hips_deg: float | None = None
    shoulders_deg: float | None = None
    face_aim_deg: float | None = None
    lead_flare_deg: float | None = None
    trail_flare_deg: float | None = None


@dataclass(frozen=True, kw_only=True)
class Plan:
    """What to draw. ``windows`` is by checkpoint key; stance width is a ratio there, as in the library.

    ``room`` holds setups that are not drawn but must fit: with the same room two pictures have the same frame.
    Without ``numbers`` it shows where things lie and says no measure, for the youngest.
    """

    now: Setup
    left_handed: bool = False
    before: Setup | None = None
    goal: Setup | None = None
    room: tuple[Setup, ...] = ()
    windows: Mapping[str, tuple[float, float]] = field(default_factory=dict)
    shoulder_width_cm: float = DEFAULT_SHOULDER_WIDTH_CM
    sticks: tuple[Stick, ...] = ()
    key: str = "plan"
    title: str = "Setup from above"
    now_word: str = "now"
    numbers: bool = True


WIDTH = 360.0
_U_MARGIN = 19.0
_ROWS = {"feet_deg": -15.0, "hips_deg": -26.0, "shoulders_deg": -37.0}
_BOTTOM_V = -45.0


def draw(plan: Plan) -> SafeString:
    """Draw the plan. One scale for all setups in it, so before and after can be laid over each other."""
    paper = paper_for(plan)
    height = paper.y(_BOTTOM_V) + (24 if plan.before or plan.goal else 4)
    layers = [plan_parts.windows(plan, paper), plan_parts.ground(plan, paper)]
    if plan.before:
        layers.append(plan_parts.body(plan.before, plan, paper, "before"))
    if plan.goal:
        layers.append(plan_parts.body(plan.goal, plan, paper, "goal"))
    layers.append(plan_parts.body(plan.now, plan, paper, "now"))
    if plan.numbers:
        layers.append(plan_parts.measures(plan, paper))
    layers += [_row(plan, paper, key, v) for key, v in _ROWS.items()]
    if plan.before or plan.goal:
        layers.append(plan_parts.legend(plan, height - 8))
    return picture(
        *layers, key=plan.key, width=WIDTH, height=height, class_="pic-plan", title=plan.title,
        description=describe(plan), data_scale=paper.scale, data_hand="left" if plan.left_handed else "right",
        data_origin_x=paper.x(0), data_origin_y=paper.y(0), data_shoulder_width_cm=plan.shoulder_width_cm,
    )


def paper_for(plan: Plan) -> Paper:
    """Choose the frame: at least 96 cm of ground, wider if any of the setups needs it."""
    setups = [setup for setup in (plan.now, plan.before, plan.goal, *plan.room) if setup]
    right = max([plan_parts.width_of(setup) for setup in setups]
                + [plan_parts.ball_of(setup) for setup in setups])
    left = min([0.0] + [plan_parts.ball_of(setup) for setup in setups])
    u_min = left - _U_MARGIN - 2
    span = max(96.0, right + _U_MARGIN + 12 - u_min)
    u_min -= (span - (right + _U_MARGIN + 12 - u_min)) / 2
    return Paper(
        left_handed=plan.left_handed, scale=WIDTH / span, width=WIDTH, u_min=u_min,
        v_max=max(plan_parts.ball_v(setup) for setup in setups) + 9, top=26,
    )


def _row(plan: Plan, paper: Paper, key: str, v: float) -> Markup:
    """One body line behind the feet: its window as a bow tie, its direction, its number."""
    name = {"feet_deg": "feet", "hips_deg": "hips", "shoulders_deg": "shoulders"}[key]
    value = getattr(plan.now, key)
    centre = (paper.u_min + WIDTH / paper.scale / 2, v)
    words = _row_words(value, numbers=plan.numbers)
    others = [
        plan_parts.direction_line(getattr(setup, key), centre, paper, kind)
        for setup, kind in ((plan.before, "before"), (plan.goal, "goal"))
        if setup and getattr(setup, key) is not None
    ]
    y = paper.y(v)
    edge = 2.0 if not plan.left_handed else WIDTH - 2
    return group(
        plan_parts.bow_tie(plan.windows.get(key), centre, paper),
        line(paper.x(centre[0] - plan_parts.ROW_HALF_CM), y,
             paper.x(centre[0] + plan_parts.ROW_HALF_CM), y, "edge", stroke_width=1,
             stroke_dasharray="2 4"),
        *others,
        plan_parts.direction_line(value, centre, paper, "now") if value is not None else Markup(),
        label(edge, y + 5, name, "soft", size=13, anchor=paper.toward_trail()),
        label(WIDTH - edge, y + 5, words, "soft" if value is None else "strong", size=13,
              anchor=paper.toward_target()),
        id=f"{plan.key}-{name}", class_="part", data_part=key, data_value=value, data_unit="°",
    )


def _row_words(value: float | None, *, numbers: bool) -> str:
    if value is None:
        return "not looked at"
    return f"{plain(abs(value), 0)}°{_aim_word(value)}" if numbers else (_aim_word(value).strip() or "straight")


def _aim_word(degrees: float) -> str:
    if round(degrees) == 0:
        return ""
    return " closed" if degrees > 0 else " open"


def describe(plan: Plan) -> str:
    """Say in words what the picture shows, numbers included, for the screen reader and for print."""
    target = "right" if plan.left_handed else "left"
    said = [f"Seen from above, as the player looks down; the target is to the {target}."]
    if not plan.numbers:
        return said[0]
    now = plan.now
    if now.stance_width_cm is not None:
        ratio = now.stance_width_cm / plan.shoulder_width_cm
        said.append(f"Heels {plain(now.stance_width_cm, 0)} cm apart, {plain(ratio, 2)} × shoulder width"
                    f"{_window(plan, 'stance_width_ratio', '×', 2)}.")
    if now.ball_cm is not None:
        side = "behind" if now.ball_cm >= 0 else "ahead of"
        widths = abs(now.ball_cm) / BALL_WIDTH_CM
        said.append(f"Ball {plain(abs(now.ball_cm))} cm {side} the inside of the lead heel, {plain(widths)} "
                    f"ball widths{_window(plan, 'ball_position_cm', 'cm', 0)}.")
    for key, name in (("feet_deg", "Feet"), ("hips_deg", "Hips"), ("shoulders_deg", "Shoulders")):
        value = getattr(now, key)
        if value is not None:
            aim = _aim_word(value) or " square"
            said.append(f"{name} {plain(abs(value), 0)}°{aim}{_window(plan, key, '°', 0)}.")
    missing = [word for key, word in (("stance_width_cm", "stance width"), ("ball_cm", "ball position"),
                                      ("ball_distance_cm", "distance from the ball"))
               if getattr(now, key) is None]
    if missing:
        said.append(f"Not measured, drawn dashed or as usual: {', '.join(missing)}.")
    return " ".join(said)


def _window(plan: Plan, key: str, unit: str, digits: int) -> str:
    if key not in plan.windows:
        return ""
    low, high = plan.windows[key]
    return f" (window {plain(low, digits)} to {plain(high, digits)} {unit})"
