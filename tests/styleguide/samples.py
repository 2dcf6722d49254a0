"""Invented numbers for the style guide: one right-hander, one left-hander, a month of visits."""

import datetime
import math

from lessons.pictures import (
    flight_side,
    flight_top,
    progress,
    setup_face_on,
    setup_plan,
    sparkline,
    window_dots,
)
from lessons.pictures.flight_frame import Curve, Ellipse, Landing

DRIVER = {
    "ball_position_cm": (-1, 3), "stance_width_ratio": (1.05, 1.25), "feet_deg": (-2, 2), "hips_deg": (-2, 2),
    "shoulders_deg": (-2, 2), "shoulder_tilt_deg": (8, 14), "trunk_tilt_deg": (5, 10),
    "handle_ahead_cm": (-3, 1), "tee_height_mm": (45, 55), "lead_weight_pct": (45, 50),
}
MID_IRON = {
    "ball_position_cm": (9, 14), "stance_width_ratio": (0.8, 1.0), "feet_deg": (-2, 2), "hips_deg": (-2, 2),
    "shoulders_deg": (-2, 2), "handle_ahead_cm": (2, 5), "shoulder_tilt_deg": (4, 8),
}
STEPS = tuple(range(41))
FOUND = setup_plan.Setup(stance_width_cm=38, ball_cm=9, feet_deg=6, hips_deg=4, shoulders_deg=5,
                         face_aim_deg=2, lead_flare_deg=15, trail_flare_deg=5, ball_distance_cm=44)
LEFT = setup_plan.Setup(stance_width_cm=45, ball_cm=2, feet_deg=1, hips_deg=0, shoulders_deg=1,
                        face_aim_deg=0, lead_flare_deg=25, trail_flare_deg=10, ball_distance_cm=44)


def flight(*, carry: float, apex: float, start: float, side: float, modelled: bool = True) -> Curve:
    """A smooth invented flight: a lopsided arch that starts at ``start`` and lands at ``side`` metres."""
    points = []
    for t in (step / 40 for step in STEPS):
        height = apex * 4 * t**1.35 * (1 - t**1.35)
        points.append((carry * t, height, start * t + (side - start) * t**2.2))
    return Curve(points=points, modelled=modelled, landing_angle_deg=41 if carry > 150 else 46)


def pictures() -> dict[str, str]:
    """Every picture once, with sample data, by name."""
    path = (4.1, 5.2, 6.0, 4.8, 5.5, 7.1, 6.4, 3.9, 5.0, 5.9)
    day = datetime.date
    visits = (
        progress.Visit(day=day(2026, 3, 4), n=10, mean=5.4, interval=(4.6, 6.2)),
        progress.Visit(day=day(2026, 3, 18), n=10, mean=4.6, interval=(3.7, 5.5)),
        progress.Visit(day=day(2026, 4, 15), n=12, mean=2.9, interval=(2.1, 3.7), aided=True),
        progress.Visit(day=day(2026, 4, 29), n=4),
        progress.Visit(day=day(2026, 5, 20), n=10, mean=3.3, interval=(2.5, 4.1), change="new driver"),
    )
    spread = tuple(
        progress.Visit(day=visit.day, n=visit.n, mean=sd, interval=(sd * 0.7, sd * 1.7), aided=visit.aided)
        for visit, sd in zip(visits, (2.6, 2.4, 1.7, 2.2, 1.9), strict=True)
    )
    landings = tuple(
        Landing(downrange_m=192 + 9 * math.sin(i * 2.1), side_m=-6 + 13 * math.sin(i * 1.3), mishit=i == 5)
        for i in STEPS[:12]
    )
    curves = (flight(carry=196, apex=27, start=16, side=-9), flight(carry=188, apex=24, start=12, side=-16))
    view = {"curves": curves, "landings": landings, "playable_m": 15.5,
            "ellipse": Ellipse(downrange_m=192, side_m=-6, half_long_m=17, half_wide_m=13, turn_deg=12,
                               word="where about half the balls come down")}
    return {
        "plan": setup_plan.draw(setup_plan.Plan(now=FOUND, windows=DRIVER, sticks=("aim", "ball"),
                                                key="plan-found")),
        "plan_change": setup_plan.draw(setup_plan.Plan(now=LEFT, before=FOUND, windows=DRIVER, sticks=("toes",),
                                                       key="plan-change", now_word="after")),
        "plan_left": setup_plan.draw(setup_plan.Plan(now=FOUND, goal=LEFT, windows=DRIVER, left_handed=True,
                                                     sticks=("aim",), key="plan-left")),
        "plan_iron": setup_plan.draw(setup_plan.Plan(now=setup_plan.Setup(ball_cm=12, feet_deg=-3),
                                                     windows=MID_IRON, key="plan-iron")),
        "face_on": setup_face_on.draw(setup_face_on.FaceOn(
            stance_width_cm=45, ball_cm=2, shoulder_tilt_deg=11, trunk_tilt_deg=7, handle_cm=-1,
            lead_weight_pct=47, tee_mm=50, windows=DRIVER)),
        "face_on_left": setup_face_on.draw(setup_face_on.FaceOn(
            stance_width_cm=33, ball_cm=12, shoulder_tilt_deg=3, handle_cm=4, lead_weight_pct=55,
            windows=MID_IRON, left_handed=True, key="face-on-left")),
        "top": flight_top.draw(flight_top.TopView(**view)),
        "top_left": flight_top.draw(flight_top.TopView(**view, left_handed=True, unit="m", key="flight-top-l")),
        "side": flight_side.draw(flight_side.SideView(curves=(
            curves[0], flight(carry=171, apex=20, start=8, side=4, modelled=False)))),
        "dots": window_dots.draw(window_dots.WindowDots(
            label="Club path", unit="°", values=path, window=(2, 4), mean=5.4, interval=(4.7, 6.1),
            mishits=(9.2,), minus_word="out-to-in", plus_word="in-to-out")),
        "dots_few": window_dots.draw(window_dots.WindowDots(
            label="Club path", unit="°", values=path[:4], window=(2, 4), minus_word="out-to-in",
            plus_word="in-to-out", mirrored=True, key="dots-few")),
        "spark": sparkline.draw(sparkline.Sparkline(means=(5.4, 4.6, None, 3.6, 3.3), window=(2, 4), unit="°")),
        "spark_one": sparkline.draw(sparkline.Sparkline(means=(5.4,), key="spark-one")),
        "progress": progress.draw(progress.Panel(label="Club path", unit="°", visits=visits, window=(2, 4),
                                                 noise=1.3)),
        "progress_sd": progress.draw(progress.Panel(label="Spread of path (SD)", unit="°", visits=spread,
                                                    from_zero=True, with_sign=False, key="progress-sd")),
    }
